import { expect, test } from 'vitest';
import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js';
import { treeHash } from '../../src/store/trust/merkle.ts';
import { sealHolds, toBase64Url } from '../../src/store/seal.ts';
import { wordsOfKey } from '../../src/store/trust/fingerprint.ts';

/*
 * RFC 9162 (and 6962 before it) gives the Merkle tree hash in words. The roots
 * are those of the reference implementation's own tests (certificate-
 * transparency, merkle tree), from memory.
 */
const LEAVES = [
  '',
  '00',
  '10',
  '2021',
  '3031',
  '40414243',
  '5051525354555657',
  '606162636465666768696a6b6c6d6e6f',
];
const ROOTS = [
  'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];
test.each(ROOTS.map((root, n) => [n, root] as const))(
  'RFC 9162: the root over %i leaves',
  (n, root) => {
    expect(bytesToHex(treeHash(LEAVES.slice(0, n).map((l) => hexToBytes(l))))).toBe(root);
  },
);

/* RFC 8032, section 7.1, TEST 3: a message of two bytes; and TEST SHA(abc) is for another variant. */
test('RFC 8032: a signature over 32 bytes that is not of the key is refused', () => {
  const key = toBase64Url(
    hexToBytes('fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025'),
  );
  const signature = toBase64Url(
    hexToBytes(
      '6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a',
    ),
  );
  // The signature of TEST 3 is over af82, and over nothing else.
  expect(sealHolds(key, signature, 'af'.repeat(32))).toBe(false);
});

test('a fingerprint is eight words, and one bit of the key changes them', () => {
  const key = new Uint8Array(32).fill(7);
  const other = key.slice();
  other[31] = 6;
  const words = wordsOfKey(toBase64Url(key)).split(' ');
  expect(words).toHaveLength(8);
  expect(wordsOfKey(toBase64Url(other)).split(' ')).not.toEqual(words);
  expect(wordsOfKey('no key')).toBe('no key');
});
