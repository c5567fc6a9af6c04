/**
 * A map that is never changed: `put` gives a new one that shares all but the
 * path to what was put. Keys are spread by a 32-bit hash over branches of 32.
 *
 * Whoever makes many puts in a row may pass an owner: branches made for that
 * owner are written to again, since nobody else has seen them yet.
 */
export interface PMap<V> {
  readonly size: number;
  readonly root: Branch<V> | null;
}

interface Leaf<V> {
  readonly hash: number;
  readonly key: string;
  readonly value: V;
  /** Another key of the same hash; hardly ever there. */
  readonly next: Leaf<V> | null;
}
interface Branch<V> {
  readonly kids: (Node<V> | undefined)[];
  readonly owner: object | null;
}
type Node<V> = Leaf<V> | Branch<V>;

const BITS = 5;
const MASK = 31;

export const EMPTY: PMap<never> = { size: 0, root: null };

/** FNV-1a, 32 bits. */
export function hashOf(key: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < key.length; i += 1) {
    hash = Math.imul(hash ^ key.charCodeAt(i), 0x01000193);
  }
  return hash >>> 0;
}

export function get<V>(map: PMap<V>, key: string): V | undefined {
  if (map.root === null) return undefined;
  const hash = hashOf(key);
  let node: Node<V> | undefined = map.root;
  for (let shift = 0; node !== undefined && 'kids' in node; shift += BITS) {
    node = node.kids[(hash >>> shift) & MASK];
  }
  if (node === undefined || !('key' in node) || node.hash !== hash) return undefined;
  for (let leaf: Leaf<V> | null = node; leaf !== null; leaf = leaf.next) {
    if (leaf.key === key) return leaf.value;
  }
  return undefined;
}

export function put<V>(map: PMap<V>, key: string, value: V, owner: object | null = null): PMap<V> {
  const hash = hashOf(key);
  const known = get(map, key) !== undefined;
  const root = putIn(map.root ?? { kids: [], owner }, 0, hash, key, value, owner);
  return { size: map.size + (known ? 0 : 1), root: root as Branch<V> };
}

function putIn<V>(
  node: Node<V> | undefined,
  shift: number,
  hash: number,
  key: string,
  value: V,
  owner: object | null,
): Node<V> {
  if (node === undefined) return { hash, key, value, next: null };
  if ('key' in node) {
    if (node.hash === hash) return { hash, key, value, next: without(node, key) };
    // Two hashes that agree so far: one branch more, then both go their ways.
    const kids: (Node<V> | undefined)[] = [];
    kids[(node.hash >>> shift) & MASK] = node;
    return putIn({ kids, owner }, shift, hash, key, value, owner);
  }
  const mine = owner !== null && node.owner === owner;
  const kids = mine ? node.kids : node.kids.slice();
  const at = (hash >>> shift) & MASK;
  kids[at] = putIn(kids[at], shift + BITS, hash, key, value, owner);
  return mine ? node : { kids, owner };
}

function without<V>(leaf: Leaf<V> | null, key: string): Leaf<V> | null {
  if (leaf === null) return null;
  const next = without(leaf.next, key);
  return leaf.key === key ? next : { ...leaf, next };
}
