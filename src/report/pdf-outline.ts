import {
  PDFHexString,
  PDFName,
  PDFNull,
  PDFNumber,
  type PDFDict,
  type PDFDocument,
  type PDFPage,
  type PDFRef,
} from 'pdf-lib';

/** A heading where it was drawn. */
export interface Mark {
  readonly title: string;
  /** 1 for the title of the whole. */
  readonly level: number;
  readonly page: PDFPage;
  /** Its upper edge, pt from the foot of the page. */
  readonly top: number;
}

interface Node {
  readonly mark: Mark;
  readonly ref: PDFRef;
  readonly dict: PDFDict;
  readonly children: Node[];
}

/**
 * The headings as an outline (ISO 32000-1, 12.3.3), which readers list beside the
 * pages and screen readers walk through. The library has no call for it, so its
 * objects are written here. All of it is open: a walk has a dozen stations.
 */
export function outline(document: PDFDocument, marks: readonly Mark[]): void {
  if (marks.length === 0) return;
  const { context, catalog } = document;
  const top: Node[] = [];
  const above: Node[] = [];
  for (const mark of marks) {
    const dict = context.obj({});
    const node: Node = { mark, dict, ref: context.register(dict), children: [] };
    while ((above.at(-1)?.mark.level ?? 0) >= mark.level) above.pop();
    (above.at(-1)?.children ?? top).push(node);
    above.push(node);
  }
  const root = context.obj({ Type: 'Outlines' });
  const rootRef = context.register(root);
  link(root, rootRef, top);
  catalog.set(PDFName.of('Outlines'), rootRef);
  catalog.set(PDFName.of('PageMode'), PDFName.of('UseOutlines'));

  /** Gives a parent its children, and tells how many are seen below it. */
  function link(parent: PDFDict, parentRef: PDFRef, children: readonly Node[]): number {
    let seen = children.length;
    children.forEach(({ mark, dict, ref, children: under }, i) => {
      dict.set(PDFName.of('Title'), PDFHexString.fromText(mark.title));
      dict.set(PDFName.of('Parent'), parentRef);
      const at = [mark.page.ref, PDFName.of('XYZ'), PDFNull, PDFNumber.of(mark.top), PDFNull];
      dict.set(PDFName.of('Dest'), context.obj(at));
      const [before, after] = [children[i - 1], children[i + 1]];
      if (before !== undefined) dict.set(PDFName.of('Prev'), before.ref);
      if (after !== undefined) dict.set(PDFName.of('Next'), after.ref);
      seen += link(dict, ref, under);
    });
    const [first, last] = [children[0], children.at(-1)];
    if (first === undefined || last === undefined) return 0;
    parent.set(PDFName.of('First'), first.ref);
    parent.set(PDFName.of('Last'), last.ref);
    parent.set(PDFName.of('Count'), PDFNumber.of(seen));
    return seen;
  }
}
