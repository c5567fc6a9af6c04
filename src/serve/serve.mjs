// Serves one folder and nothing else, on loopback unless told otherwise.
import { existsSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import { join } from 'node:path';
import sirv from 'sirv';
import { headersFor } from './headers.mjs';

/**
 * sirv keeps the list of files it began with, and a file of the list that a new
 * build took away would end the program. What is outside the folder is left to
 * sirv, which refuses it.
 */
function isGone(folder, url) {
  try {
    const path = decodeURIComponent(new URL(url, 'http://localhost').pathname);
    const file = join(folder, path);
    if (!existsSync(file)) return true;
    return statSync(file).isDirectory() && !existsSync(join(file, 'index.html'));
  } catch {
    return true;
  }
}

/**
 * @param {object} options
 * @param {string} options.folder the built app
 * @param {number} [options.port] 0 or left out: any free port
 * @param {string} [options.host] loopback when left out
 * @param {{ key: string, cert: string }} [options.secure] serve over HTTPS with this certificate
 * @returns {Promise<{ port: number, close: () => Promise<void> }>}
 */
export async function serve({ folder, port = 0, host = '127.0.0.1', secure }) {
  const files = sirv(folder, { etag: true, dotfiles: false });
  const answer = (request, response) => {
    for (const [name, value] of Object.entries(
      headersFor(request.url ?? '/', secure !== undefined),
    ))
      response.setHeader(name, value);
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.writeHead(405, { Allow: 'GET, HEAD' }).end('Only reading is allowed.');
      return;
    }
    const missing = () =>
      response.writeHead(404, { 'Content-Type': 'text/plain; charset=utf-8' }).end('Not found.');
    if (isGone(folder, request.url ?? '/')) missing();
    else files(request, response, missing);
  };
  const server = secure === undefined ? createServer(answer) : createSecureServer(secure, answer);
  await new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => resolve(undefined));
  });
  const address = server.address();
  return {
    port: typeof address === 'object' && address !== null ? address.port : port,
    close: () => new Promise((resolve) => server.close(() => resolve(undefined))),
  };
}
