/** Phrases by their words: every phrase that begins at a place is found in one pass. */
interface Node<T> {
  next: Map<string, Node<T>> | null;
  items: T[] | null;
}

export interface Hit<T> {
  readonly from: number;
  readonly to: number;
  readonly item: T;
}

export class Trie<T> {
  private readonly root: Node<T> = { next: null, items: null };

  add(words: readonly string[], item: T): void {
    if (words.length === 0) return;
    let node = this.root;
    for (const word of words) {
      node.next ??= new Map();
      let next = node.next.get(word);
      if (next === undefined) node.next.set(word, (next = { next: null, items: null }));
      node = next;
    }
    (node.items ??= []).push(item);
  }

  /** All phrases that begin at `from`, shortest first. */
  at(words: readonly string[], from: number): Hit<T>[] {
    const hits: Hit<T>[] = [];
    let node: Node<T> | undefined = this.root;
    for (let i = from; i < words.length; i += 1) {
      node = node.next?.get(words[i] ?? '');
      if (node === undefined) break;
      for (const item of node.items ?? []) hits.push({ from, to: i + 1, item });
    }
    return hits;
  }

  /** End of the longest phrase that begins at `from`; `from` itself where there is none. */
  longest(words: readonly string[], from: number): Hit<T> | null {
    const hits = this.at(words, from);
    return hits[hits.length - 1] ?? null;
  }
}
