// What a request has to be before it is answered, and how long a connection may
// do nothing. Kept apart from the serving, so that each rule is read by itself.
import { isIP } from 'node:net';
import { hostname } from 'node:os';

/**
 * How long a connection may do nothing, in milliseconds, and how many there may
 * be. Too short: a phone on a weak network is cut off and asks again. Too long or
 * too many: somebody who opens connections and says nothing shuts the others out.
 */
export const LIMITS = {
  /** For the TLS handshake, and for the headers of a request. */
  greeting: 10_000,
  /** For a whole request. Only GET and HEAD are answered: nothing has to follow the headers. */
  request: 10_000,
  /** Between two requests on one connection. */
  between: 5_000,
  /** Without a byte in either direction, such as a reader who stopped reading. */
  stalled: 30_000,
  /** How often the above are looked at. */
  look: 2_000,
  /** A hangar has a dozen phones; a browser opens six connections. */
  connections: 256,
  /** Bytes of headers: a browser's come to about 1,000. */
  headers: 8_192,
};

/** Names under which this machine is reached by its own browser and on the local network. */
export function ownNames() {
  const own = hostname().toLowerCase();
  const short = own.split('.', 1)[0] ?? own;
  return [...new Set(['localhost', own, `${short}.local`])].filter((name) => name !== '');
}

/**
 * Whether the Host of a request is ours (RFC 9110, section 7.2). A page of another
 * origin can let its own name point at this machine and then read what we answer;
 * what it cannot change is that name. An address is always taken: no name stands
 * for it, and a laptop is given a new one whenever it likes.
 *
 * @param {string | undefined} host the header
 * @param {readonly string[]} names lower case
 */
export function isOurs(host, names) {
  if (host === undefined || host.length > 260) return false;
  const parts = /^(?:\[([0-9a-f:.]+)\]|([a-z0-9.-]+))(?::\d{1,5})?$/i.exec(host);
  if (parts === null) return false;
  if (parts[1] !== undefined) return isIP(parts[1]) === 6;
  const name = (parts[2] ?? '').toLowerCase().replace(/\.$/, '');
  return isIP(name) === 4 || names.includes(name);
}

/**
 * Why a request is not answered with a file, and the status to say it with; null
 * when nothing is wrong.
 *
 * @param {import('node:http').IncomingMessage} request
 * @param {readonly string[]} names
 * @returns {{ status: number, why: string, headers?: Record<string, string> } | null}
 */
export function refusal(request, names) {
  if (!isOurs(request.headers.host, names))
    return { status: 421, why: 'This server answers under its own address only.' };
  if (request.method !== 'GET' && request.method !== 'HEAD')
    return { status: 405, why: 'Only reading is allowed.', headers: { Allow: 'GET, HEAD' } };
  if (!(request.url ?? '').startsWith('/'))
    return { status: 400, why: 'The address has to begin with a slash.' };
  return null;
}
