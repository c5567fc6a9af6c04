// Serves one folder and nothing else, on loopback unless told otherwise. No
// request may end the program: everything that can throw is caught where it is
// thrown, and everything that can wait has an end.
import { createServer } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import send from 'send';
import { isOurs, LIMITS, ownNames, refusal } from './guard.mjs';
import { headersFor } from './headers.mjs';

/** Sentences for what can go wrong with a file, by status; every other is "not found". */
const SENTENCES = {
  412: 'The file is another one by now.',
  416: 'That part lies outside the file.',
  500: 'The file could not be read.',
};

/**
 * A page that is not in the folder; told under which name or address it was asked for.
 *
 * @typedef {{ type: string, body: (host: string) => string | Uint8Array }} Page
 */

/**
 * @param {object} options
 * @param {string} [options.folder] the built app; left out: nothing but `pages`
 * @param {ReadonlyMap<string, Page>} [options.pages] by path, before the folder is looked at
 * @param {number} [options.port] 0 or left out: any free port
 * @param {string} [options.host] loopback when left out
 * @param {{ key: string, cert: string }} [options.secure] serve over HTTPS with this certificate
 * @param {readonly string[]} [options.names] names that are ours, beside every address
 * @param {(request: import('node:http').IncomingMessage, response: import('node:http').ServerResponse) => boolean} [options.answer] asked before the folder, for requests under our own name; false: it is not its own
 * @param {Partial<typeof LIMITS>} [options.limits] other limits than the usual
 * @returns {Promise<{ port: number, close: () => Promise<void> }>}
 */
export async function serve(options) {
  const { port = 0, host = '127.0.0.1', secure, names = ownNames() } = options;
  const limits = { ...LIMITS, ...options.limits };
  const answer = (request, response) => {
    // A connection that breaks while it is written to is the other side's business.
    response.on('error', () => response.destroy());
    request.on('error', () => response.destroy());
    try {
      respond(request, response, { ...options, names });
    } catch {
      say(response, 500, 'This request could not be answered.');
    }
  };
  const ways = {
    maxHeaderSize: limits.headers,
    headersTimeout: limits.greeting,
    requestTimeout: limits.request,
    keepAliveTimeout: limits.between,
    connectionsCheckingInterval: limits.look,
  };
  const server =
    secure === undefined
      ? createServer(ways, answer)
      : createSecureServer({ ...ways, ...secure, handshakeTimeout: limits.greeting }, answer);
  server.maxConnections = limits.connections;
  server.setTimeout(limits.stalled);
  await new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => resolve(undefined));
  });
  const address = server.address();
  return {
    port: typeof address === 'object' && address !== null ? address.port : port,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve(undefined));
        server.closeAllConnections();
      }),
  };
}

function respond(request, response, { folder, pages, names, secure, answer }) {
  const url = request.url ?? '/';
  for (const [name, value] of Object.entries(headersFor(url, secure !== undefined)))
    response.setHeader(name, value);
  if (answer !== undefined && isOurs(request.headers.host, names) && url.startsWith('/'))
    if (answer(request, response)) return;
  const refused = refusal(request, names);
  if (refused !== null) {
    // What else it sends is not read.
    response.shouldKeepAlive = false;
    say(response, refused.status, refused.why, refused.headers);
    return;
  }
  const path = url.split(/[?#]/, 1)[0] ?? '/';
  const page = pages?.get(path);
  if (page !== undefined) {
    const host = (request.headers.host ?? '').replace(/:\d+$/, '');
    response.writeHead(200, { 'Content-Type': page.type }).end(page.body(host));
    return;
  }
  if (folder === undefined) {
    say(response, 404, 'Not found.');
    return;
  }
  // Ranges (RFC 9110, section 14), conditions, types and paths are the library's:
  // it looks at the disk each time, so that a new build is seen at once.
  send(request, path, { root: folder, dotfiles: 'ignore', cacheControl: false })
    .on('directory', () => say(response, 404, 'Not found.'))
    .on('error', (error) => {
      const known = Object.hasOwn(SENTENCES, error.status) ? error.status : 404;
      say(response, known, SENTENCES[known] ?? 'Not found.');
    })
    .pipe(response);
}

/** One sentence instead of a file. */
function say(response, status, sentence, headers = {}) {
  if (response.headersSent) {
    // In the middle of a file: the other side sees that it is cut.
    response.destroy();
    return;
  }
  for (const name of ['Content-Length', 'Content-Encoding', 'ETag', 'Last-Modified'])
    response.removeHeader(name);
  response
    .writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', ...headers })
    .end(sentence);
}
