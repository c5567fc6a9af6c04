// What a phone is shown before it trusts this machine: one page without script,
// served over plain http (nothing in it is secret, and a warning before the
// explanation of the warning helps nobody) and, for links out of the app, over
// https as well.

/** Where it lies on the secure server; src/wire/offline-copy.ts looks for it there. */
export const PHONE = '/phone/';
const FILE = 'talkround-authority.crt';

const STYLE = `
:root { color-scheme: light dark; }
body { font: 1.1rem/1.5 system-ui, sans-serif; max-width: 38rem; margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.5rem; }
h2 { font-size: 1.2rem; margin-top: 2rem; }
a.press { display: block; padding: 0.9rem 1rem; margin: 0.75rem 0; border: 2px solid; border-radius: 0.5rem;
  text-align: center; text-decoration: none; font-weight: 700; color: inherit; }
li { margin: 0.4rem 0; }
`;

const escaped = (text) =>
  text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]);

/**
 * @param {object} of
 * @param {string} of.app address of the app, https
 * @param {number} of.until when the authority ends, milliseconds since 1970
 * @param {string} of.base where this page lies on its server
 */
function page({ app, until, base }) {
  const ends = new Date(until).toISOString().slice(0, 10);
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8" />
<meta name="viewport" content="width=device-width, initial-scale=1" />
<title>Talkround on this phone</title>
<link rel="stylesheet" href="${base}phone.css" />
<h1>Talkround on this phone</h1>
<p>
  A page may use the microphone only over a secure connection, and a phone trusts no computer that
  it does not know. So choose once:
</p>
<h2>1. Make this phone know the computer</h2>
<p>
  Then there is no warning, and Talkround stays on this phone and starts <strong>without a
  network</strong>. It takes two minutes, once. What you install can vouch for machines in private
  networks only, never for a site of the internet; it ends on ${ends}.
</p>
<a class="press" href="${base}${FILE}">Download the authority</a>
<p>
  <strong>Compare before you trust it:</strong> the phone shows a SHA-256 fingerprint of what it
  installs. It has to be the one on the computer’s screen, beside the code that you scanned. If it is
  another one, somebody stands in between: remove it again.
</p>
<h3>Android (Chrome)</h3>
<ol>
  <li>Press “Download the authority” above and keep the file.</li>
  <li>
    Open the phone’s Settings, search for “CA certificate” (it lies under Security, Encryption and
    credentials, Install a certificate), press “Install anyway” and choose the file.
  </li>
  <li>
    Under Trusted credentials, User, press its name and compare the SHA-256 fingerprint.
  </li>
  <li>Come back here and open Talkround below. Android says from now on that the network may be monitored: that is this authority.</li>
</ol>
<h3>iPhone and iPad (Safari)</h3>
<ol>
  <li>Press “Download the authority” above in Safari, and allow the profile.</li>
  <li>Open Settings, General, VPN and Device Management, and press the downloaded profile.</li>
  <li>Under More Details, press the certificate and compare the SHA-256 fingerprint. Then install.</li>
  <li>
    Open Settings, General, About, Certificate Trust Settings, and turn on full trust for it. Without
    this step nothing changes.
  </li>
  <li>Come back here and open Talkround below.</li>
</ol>
<p>To take it away, remove it at the same place.</p>
<a class="press" href="${escaped(app)}">Open Talkround</a>
<h2>2. Or only look, today</h2>
<p>
  Open Talkround as it is: the phone warns that the connection is not private, and after you let it
  the microphone works. But <strong>nothing is kept on the phone for use without a network</strong>:
  on a ramp without this network Talkround will not open, and the walks made here stay in this
  browser until you back them up.
</p>
<a class="press" href="${escaped(app)}">Open Talkround with the warning</a>
</html>
`;
}

/**
 * The pages by path, for `serve`.
 *
 * @param {object} of
 * @param {(host: string) => string} of.app address of the app, given the name or address under which the phone found us
 * @param {{ der: Uint8Array, until: number }} of.authority
 * @param {string} of.base where they lie, such as "/"
 * @returns {Map<string, import('./serve.mjs').Page>}
 */
export function phonePages({ app, authority: { der, until }, base }) {
  const text = (host) => page({ app: app(host), until, base });
  return new Map([
    [base, { type: 'text/html; charset=utf-8', body: text }],
    [`${base}phone.css`, { type: 'text/css; charset=utf-8', body: () => STYLE }],
    // The type by which iOS offers to install it, and Android to keep it.
    [`${base}${FILE}`, { type: 'application/x-x509-ca-cert', body: () => der }],
  ]);
}
