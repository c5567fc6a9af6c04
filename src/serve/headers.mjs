// The headers of every answer, and the policy that index.html repeats as a <meta>
// for hosts that cannot set headers. A table, so that it can be read at a glance.

/**
 * Content-Security-Policy (W3C CSP Level 3). Everything is refused but what is
 * listed, and nothing that is listed is another origin.
 */
export const POLICY = {
  'default-src': ["'none'"],
  // 'wasm-unsafe-eval' permits compiling WebAssembly and nothing else: the
  // embedded recogniser and the noise suppressor are WebAssembly. No inline
  // script and no eval of text.
  'script-src': ["'self'", "'wasm-unsafe-eval'"],
  // No inline style sheets and no style attributes in markup. React sets its
  // styles through the object model, which this does not forbid.
  'style-src': ["'self'"],
  // data: and blob: for drawings and codes that the page makes itself.
  'img-src': ["'self'", 'data:', 'blob:'],
  'font-src': ["'self'"],
  // The model of the recogniser is fetched from our own origin.
  'connect-src': ["'self'"],
  // The kept sound of a walk is played from memory.
  'media-src': ["'self'", 'blob:'],
  'worker-src': ["'self'"],
  'manifest-src': ["'self'"],
  'object-src': ["'none'"],
  'base-uri': ["'none'"],
  'form-action': ["'none'"],
};

/** What a <meta> cannot say, only a header. */
export const HEADER_ONLY = { 'frame-ancestors': ["'none'"] };

/** What the page may ask of the device: the microphone, and its screen to stay awake. */
export const PERMISSIONS = {
  microphone: '(self)',
  'screen-wake-lock': '(self)',
  autoplay: '(self)',
  accelerometer: '()',
  camera: '()',
  'display-capture': '()',
  fullscreen: '(self)',
  geolocation: '()',
  gyroscope: '()',
  hid: '()',
  magnetometer: '()',
  midi: '()',
  payment: '()',
  serial: '()',
  usb: '()',
};

/** @param {Record<string, string[]>} policy */
function written(policy) {
  return Object.entries(policy)
    .map(([name, values]) => `${name} ${values.join(' ')}`)
    .join('; ');
}

/** The policy as index.html has it in its <meta http-equiv="Content-Security-Policy">. */
export function metaPolicy() {
  return written(POLICY);
}

/**
 * The headers of one answer.
 *
 * @param {string} url path of the request, with or without its query
 * @param {boolean} secure served over HTTPS
 * @returns {Record<string, string>}
 */
export function headersFor(url, secure) {
  const path = url.split(/[?#]/, 1)[0] ?? '/';
  return {
    'Content-Security-Policy':
      written({ ...POLICY, ...HEADER_ONLY }) + (secure ? '; upgrade-insecure-requests' : ''),
    'Permissions-Policy': Object.entries(PERMISSIONS)
      .map(([name, who]) => `${name}=${who}`)
      .join(', '),
    'X-Content-Type-Options': 'nosniff',
    'X-Frame-Options': 'DENY',
    'Referrer-Policy': 'no-referrer',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'X-Robots-Tag': 'noindex',
    // Files with a hash in their name never change; everything else is asked
    // about each time, so that an update is seen (the offline copy answers when
    // there is no network).
    'Cache-Control': /\/assets\/[^/]+-[\w-]{8}\.\w+$/.test(path)
      ? 'public, max-age=31536000, immutable'
      : 'no-cache',
  };
}
