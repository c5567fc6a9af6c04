import { ed25519 } from '@noble/curves/ed25519.js';
import { hexToBytes } from '@noble/hashes/utils.js';
import { expect, test } from 'vitest';
import { canonical, sha256Hex } from '../../src/store/canonical.ts';
import { sealHolds, toBase64Url } from '../../src/store/seal.ts';

/**
 * The record's canonical text, hash and signature against the vectors of their
 * own specifications: RFC 8785, FIPS 180-4 and RFC 8032.
 */

test('RFC 8785, section 3.2.2: the sample object', () => {
  const input = String.raw`{
    "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
    "literals": [null, true, false]
  }`;
  expect(canonical(JSON.parse(input))).toBe(
    String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
  );
});

test('RFC 8785, section 3.2.3: names are sorted by UTF-16 code units', () => {
  const input = String.raw`{
    "\u20ac": "Euro Sign",
    "\r": "Carriage Return",
    "\ufb33": "Hebrew Letter Dalet With Dagesh",
    "1": "One",
    "\ud83d\ude00": "Emoji: Grinning Face",
    "\u0080": "Control",
    "\u00f6": "Latin Small Letter O With Diaeresis"
  }`;
  const sorted = [
    'Carriage Return',
    'One',
    'Control',
    'Latin Small Letter O With Diaeresis',
    'Euro Sign',
    'Emoji: Grinning Face',
    'Hebrew Letter Dalet With Dagesh',
  ];
  const text = canonical(JSON.parse(input));
  const at = sorted.map((name) => text.indexOf(name));
  expect(at.every((place) => place > 0)).toBe(true);
  expect(at).toEqual([...at].sort((a, b) => a - b));
});

test.each([
  ['0000000000000000', '0'],
  ['8000000000000000', '0'],
  ['0000000000000001', '5e-324'],
  ['8000000000000001', '-5e-324'],
  ['7fefffffffffffff', '1.7976931348623157e+308'],
  ['ffefffffffffffff', '-1.7976931348623157e+308'],
  ['4340000000000000', '9007199254740992'],
  ['c340000000000000', '-9007199254740992'],
  ['4430000000000000', '295147905179352830000'],
  ['44b52d02c7e14af5', '9.999999999999997e+22'],
  ['44b52d02c7e14af6', '1e+23'],
  ['44b52d02c7e14af7', '1.0000000000000001e+23'],
  ['444b1ae4d6e2ef4e', '999999999999999700000'],
  ['444b1ae4d6e2ef4f', '999999999999999900000'],
  ['444b1ae4d6e2ef50', '1e+21'],
  ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
  ['3eb0c6f7a0b5ed8d', '0.000001'],
  ['41b3de4355555553', '333333333.3333332'],
  ['41b3de4355555554', '333333333.33333325'],
  ['41b3de4355555555', '333333333.3333333'],
  ['41b3de4355555556', '333333333.3333334'],
  ['41b3de4355555557', '333333333.33333343'],
  ['becbf647612f3696', '-0.0000033333333333333333'],
  ['43143ff3c1cb0959', '1424953923781206.2'],
])('RFC 8785, appendix B: the number with the bits %s is written %s', (bits, text) => {
  const view = new DataView(new ArrayBuffer(8));
  view.setBigUint64(0, BigInt(`0x${bits}`));
  expect(canonical(view.getFloat64(0))).toBe(text);
});

test.each([
  ['NaN', Number.NaN],
  ['infinity', Number.POSITIVE_INFINITY],
  ['minus infinity', Number.NEGATIVE_INFINITY],
  ['half of a surrogate pair (3.2.2.2)', 'a\ud83d'],
  ['the other half, in a name', { '\ude00': 1 }],
])('RFC 8785: %s has no canonical text', (_name, value) => {
  expect(() => canonical({ value })).toThrow();
});

test('a backslash before "ud83d" is text, not half of a pair', () => {
  expect(canonical(String.raw`\ud83d`)).toBe(String.raw`"\\ud83d"`);
});

test.each([
  ['the empty message', '', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ['"abc"', 'abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'the message of 448 bits',
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
  [
    'the message of 896 bits',
    'abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu',
    'cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1',
  ],
  [
    'a million times "a"',
    'a'.repeat(1_000_000),
    'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0',
  ],
])('FIPS 180-4, NIST example values: SHA-256 of %s', (_name, message, hash) => {
  expect(sha256Hex(message)).toBe(hash);
});

test.each([
  [
    'TEST 1',
    '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    '',
    'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  ],
  [
    'TEST 2',
    '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    '72',
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  ],
  [
    'TEST 3',
    'c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7',
    'fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025',
    'af82',
    '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
  ],
])('RFC 8032, section 7.1: Ed25519 %s', (_name, secret, publicKey, message, signature) => {
  const key = hexToBytes(secret);
  expect(ed25519.getPublicKey(key)).toEqual(hexToBytes(publicKey));
  expect(ed25519.sign(hexToBytes(message), key)).toEqual(hexToBytes(signature));
  // The seal signs hashes of 32 bytes only, so no vector fits it; the key of one does.
  const hash = sha256Hex(message);
  const seal = toBase64Url(ed25519.sign(hexToBytes(hash), key));
  expect(sealHolds(toBase64Url(hexToBytes(publicKey)), seal, hash)).toBe(true);
  expect(sealHolds(toBase64Url(hexToBytes(publicKey)), seal, sha256Hex('other'))).toBe(false);
});
