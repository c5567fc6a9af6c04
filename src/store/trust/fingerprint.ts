import { sha256 } from '@noble/hashes/sha2.js';
import { wordlist } from '@scure/bip39/wordlists/english.js';
import { fromBase64Url } from '../seal.ts';

/**
 * Words of a fingerprint: 8 of 2048, so 88 bits. To find another key with the
 * same eight words takes about 2^88 trials, beyond anybody's means; fewer words
 * would be read out faster, and 55 bits (five words) can be bought.
 */
const WORDS = 8;
const BITS = 11;

/** A device as it is known here by one of its keys. */
export interface DeviceKey {
  readonly device: string;
  readonly publicKey: string;
  readonly name: string | null;
  /** The fingerprint to be read out. */
  readonly words: string;
  readonly own: boolean;
  readonly compared: boolean;
  /** Milliseconds since 1970; 0: from before this was kept. */
  readonly since: number;
  /** The device was met under another key before this one. */
  readonly changed: boolean;
}

/**
 * The fingerprint of a public key in words (of the BIP 39 list, chosen so that
 * four letters tell them apart): the first 88 bits of the SHA-256 of its 32
 * bytes. What is no key is given back as it is.
 */
export function wordsOfKey(publicKey: string): string {
  const raw = fromBase64Url(publicKey);
  if (raw?.length !== 32) return publicKey;
  const hash = sha256(raw);
  let bits = 0n;
  for (const byte of hash) bits = (bits << 8n) | BigInt(byte);
  const all = BigInt(hash.length * 8);
  return Array.from({ length: WORDS }, (_, i) => {
    const at = (bits >> (all - BigInt((i + 1) * BITS))) & BigInt(2 ** BITS - 1);
    return wordlist[Number(at)] ?? '';
  }).join(' ');
}

/** What stands in the QR code of a key: any camera reads the words out. */
export function qrText(name: string | null, words: string): string {
  return `Talkround key of ${name ?? 'this device'}: ${words}`;
}
