// A certificate authority of this machine alone, made once. It signs the
// certificate that `npm start -- --lan` serves with. A phone on which it is
// installed trusts this machine from then on, and only so does its browser keep
// the app for use without a network.
import 'reflect-metadata';
import { createHash, createPrivateKey, webcrypto, X509Certificate as X509 } from 'node:crypto';
import { chmodSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { BlockList } from 'node:net';
import { homedir, hostname } from 'node:os';
import { join } from 'node:path';
import { AsnConvert } from '@peculiar/asn1-schema';
import { GeneralName, GeneralSubtree, GeneralSubtrees, NameConstraints } from '@peculiar/asn1-x509';
import * as x509 from '@peculiar/x509';

const DAY = 24 * 3600 * 1000;
/** Installed by hand on every phone, so not every month; not for ever, since a key that lies on a disk can be copied. */
const AUTHORITY_DAYS = 3 * 365;
/** Made at each start; iOS takes none that is longer than 825 days. */
const CERTIFICATE_DAYS = 30;
/** A phone whose clock is behind ours by less than this still takes it. */
const BEFORE = DAY;
/** An authority that ends sooner is made anew, so that no certificate outlives it. */
const LEAST_LEFT = (CERTIFICATE_DAYS + 10) * DAY;

const KEY = { name: 'ECDSA', namedCurve: 'P-256' };
const SIGN = { name: 'ECDSA', hash: 'SHA-256' };
/** id-ce-nameConstraints */
const NAME_CONSTRAINTS = '2.5.29.30';

/**
 * What the authority can speak for: this machine and private networks (RFC 1918,
 * 3927, 4193, 4291), never a site of the internet. Whoever steals its key can then
 * pass for a machine of the hangar, and not for the bank of whoever installed it.
 */
const NETWORKS = [
  '127.0.0.0/8',
  '10.0.0.0/8',
  '172.16.0.0/12',
  '192.168.0.0/16',
  '169.254.0.0/16',
  '::1/128',
  'fc00::/7',
  'fe80::/10',
];

x509.cryptoProvider.set(webcrypto);

/**
 * @typedef {object} Authority
 * @property {Uint8Array} der the certificate, as a phone installs it
 * @property {string} pem the same in letters
 * @property {string} fingerprint SHA-256 of it, as phones show it
 * @property {string} keyPem PKCS #8; never leaves this machine
 * @property {number} until milliseconds since 1970
 */

/** Where this machine keeps what outlives a checkout. TALKROUND_HOME moves it. */
export function ownFolder(env = process.env) {
  const settings =
    process.platform === 'win32' && env.APPDATA
      ? env.APPDATA
      : (env.XDG_CONFIG_HOME ?? join(homedir(), '.config'));
  return join(env.TALKROUND_HOME ?? join(settings, 'talkround'), 'authority');
}

/**
 * The authority of a folder; made when there is none, when it ends soon, or when
 * it cannot be read.
 *
 * @param {string} folder
 * @param {number} now milliseconds since 1970
 * @param {readonly string[]} addresses of this machine; one outside the private networks is spoken for by itself
 * @param {boolean} [anew] another one, whatever there is
 * @returns {Promise<Authority & { made: boolean }>}
 */
export async function ownAuthority(folder, now, addresses, anew = false) {
  const kept = anew ? null : keptIn(folder);
  if (kept !== null && kept.until > now + LEAST_LEFT) return { ...kept, made: false };
  const made = await makeAuthority(now, addresses);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  keep(join(folder, 'key.pem'), made.keyPem, 0o600);
  keep(join(folder, 'authority.pem'), made.pem, 0o644);
  return { ...made, made: true };
}

/** Beside it first, then in its place: never half of it. */
function keep(file, text, mode) {
  writeFileSync(`${file}.new`, text, { mode });
  chmodSync(`${file}.new`, mode);
  renameSync(`${file}.new`, file);
}

/** Null when there is none, or key and certificate are not of one pair. */
function keptIn(folder) {
  try {
    const pem = readFileSync(join(folder, 'authority.pem'), 'utf8');
    const keyPem = readFileSync(join(folder, 'key.pem'), 'utf8');
    const certificate = new x509.X509Certificate(pem);
    const pair = new X509(pem).checkPrivateKey(createPrivateKey(keyPem));
    return pair ? authorityOf(certificate, keyPem) : null;
  } catch {
    return null;
  }
}

/** @returns {Authority} */
function authorityOf(certificate, keyPem) {
  const der = new Uint8Array(certificate.rawData);
  const pem = certificate.toString('pem');
  return {
    der,
    pem,
    fingerprint: fingerprintOf(der),
    keyPem,
    until: certificate.notAfter.getTime(),
  };
}

/** SHA-256 as phones and browsers show it: 32 pairs of hex digits. */
export function fingerprintOf(der) {
  const hex = createHash('sha256').update(der).digest('hex').toUpperCase();
  return (hex.match(/../g) ?? []).join(' ');
}

/**
 * @param {number} now milliseconds since 1970
 * @param {readonly string[]} addresses of this machine
 * @returns {Promise<Authority>}
 */
export async function makeAuthority(now, addresses) {
  const keys = await webcrypto.subtle.generateKey(KEY, true, ['sign', 'verify']);
  const beyond = addresses.filter((ip) => !within(NETWORKS, ip)).map((ip) => `${ip}/32`);
  const certificate = await x509.X509CertificateGenerator.createSelfSigned({
    name: [{ CN: [`Talkround on ${hostname().slice(0, 40) || 'this machine'}`] }],
    notBefore: new Date(now - BEFORE),
    notAfter: new Date(now + AUTHORITY_DAYS * DAY),
    keys,
    signingAlgorithm: SIGN,
    extensions: [
      // It may sign certificates of servers, and no other authority.
      new x509.BasicConstraintsExtension(true, 0, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign, true),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      limitedTo([...NETWORKS, ...beyond]),
    ],
  });
  const key = await webcrypto.subtle.exportKey('pkcs8', keys.privateKey);
  return authorityOf(certificate, x509.PemConverter.encode(key, 'PRIVATE KEY'));
}

/** Name constraints (RFC 5280, section 4.2.1.10: critical). */
function limitedTo(networks) {
  const names = [
    ...['localhost', 'local', hostname().toLowerCase()].map((dNSName) => ({ dNSName })),
    ...networks.map((iPAddress) => ({ iPAddress })),
  ];
  const permitted = names.map((name) => new GeneralSubtree({ base: new GeneralName(name) }));
  const limits = new NameConstraints({ permittedSubtrees: new GeneralSubtrees(permitted) });
  return new x509.Extension(NAME_CONSTRAINTS, true, AsnConvert.serialize(limits));
}

/** Whether an authority may speak for an address: another network than at its making may be outside. */
export function speaksFor(authority, ip) {
  const extension = new x509.X509Certificate(authority.pem).getExtension(NAME_CONSTRAINTS);
  if (extension === null) return true;
  const { permittedSubtrees } = AsnConvert.parse(extension.value, NameConstraints);
  const networks = [...(permittedSubtrees ?? [])].flatMap(({ base }) => base.iPAddress ?? []);
  return within(networks, ip);
}

function within(networks, ip) {
  const list = new BlockList();
  for (const network of networks) {
    const [address, bits] = network.split('/');
    list.addSubnet(address, Number(bits), address.includes(':') ? 'ipv6' : 'ipv4');
  }
  return list.check(ip, ip.includes(':') ? 'ipv6' : 'ipv4');
}

/**
 * A certificate for this visit, with a key of its own, signed by the authority.
 *
 * @param {Authority} authority
 * @param {readonly string[]} addresses that it speaks for
 * @param {readonly string[]} names the same for names
 * @param {number} now milliseconds since 1970
 * @returns {Promise<{ key: string, cert: string, fingerprint: string }>} PEM; `cert` is the chain
 */
export async function certificateFor(authority, addresses, names, now) {
  const issuer = new x509.X509Certificate(authority.pem);
  const signingKey = await webcrypto.subtle.importKey(
    'pkcs8',
    x509.PemConverter.decodeFirst(authority.keyPem),
    KEY,
    false,
    ['sign'],
  );
  const keys = await webcrypto.subtle.generateKey(KEY, true, ['sign', 'verify']);
  const certificate = await x509.X509CertificateGenerator.create({
    subject: [{ CN: ['Talkround on this network'] }],
    issuer: issuer.subject,
    notBefore: new Date(now - BEFORE),
    notAfter: new Date(now + CERTIFICATE_DAYS * DAY),
    publicKey: keys.publicKey,
    signingKey,
    signingAlgorithm: SIGN,
    extensions: [
      new x509.BasicConstraintsExtension(false, undefined, true),
      new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
      new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
      new x509.SubjectAlternativeNameExtension([
        ...names.map((value) => ({ type: 'dns', value })),
        ...addresses.map((value) => ({ type: 'ip', value })),
      ]),
      await x509.SubjectKeyIdentifierExtension.create(keys.publicKey),
      await x509.AuthorityKeyIdentifierExtension.create(issuer.publicKey),
    ],
  });
  const key = await webcrypto.subtle.exportKey('pkcs8', keys.privateKey);
  return {
    key: x509.PemConverter.encode(key, 'PRIVATE KEY'),
    cert: `${certificate.toString('pem')}\n${authority.pem}\n`,
    fingerprint: fingerprintOf(new Uint8Array(certificate.rawData)),
  };
}
