// Serves one folder and nothing else, on loopback unless told otherwise.
import { createServer } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import sirv from 'sirv';
import { headersFor } from './headers.mjs';

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
    files(request, response, () => {
      response.writeHead(404, { 'Content-Type': 'text/plain; charset=utf-8' }).end('Not found.');
    });
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
