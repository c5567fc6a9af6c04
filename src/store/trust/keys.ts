/** What the judge is told about devices and keys; empty for somebody who knows none. */
export interface Known {
  /** This device; null when a file is judged by nobody in particular. */
  readonly own: { readonly device: string; readonly keys: ReadonlySet<string> } | null;
  /** Keys of each other device, the one met first in front. */
  readonly keys: ReadonlyMap<string, readonly string[]>;
  /**
   * Devices with the keys whose fingerprint two people have compared, by `comparedAs`:
   * whoever holds a compared key is believed for their own device, and for no other.
   */
  readonly compared: ReadonlySet<string>;
}

export function comparedAs(device: string, publicKey: string): string {
  return `${publicKey} ${device}`;
}

export const KNOWS_NOBODY: Known = { own: null, keys: new Map(), compared: new Set() };

/**
 * Whose a key is, as far as it is known here. met: seen before, and compared by
 * nobody. changed: its device was met under another key before.
 */
export type KeyStanding = 'own' | 'compared' | 'met' | 'new' | 'changed';

export interface KeyUse {
  readonly device: string;
  readonly publicKey: string;
  readonly standing: KeyStanding;
  /** What the device calls itself. */
  readonly name: string | null;
}

export function keyStanding(device: string, publicKey: string, known: Known): KeyStanding {
  if (known.own !== null && known.own.device === device && known.own.keys.has(publicKey))
    return 'own';
  if (known.compared.has(comparedAs(device, publicKey))) return 'compared';
  const [first] = known.keys.get(device) ?? [];
  if (first === undefined) return 'new';
  return first === publicKey ? 'met' : 'changed';
}
