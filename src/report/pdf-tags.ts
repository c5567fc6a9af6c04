import {
  PDFHexString,
  PDFName,
  PDFNumber,
  PDFOperator,
  PDFOperatorNames,
  type PDFDict,
  type PDFDocument,
  type PDFPage,
  type PDFRef,
} from 'pdf-lib';

/*
 * Tagged PDF (ISO 32000-1, 14.6 to 14.8): what is drawn says what it is and in
 * which order it is read, so that a screen reader can tell a heading from a head
 * of a page. The library has no call for it, so its objects are written here.
 * The kinds are the standard ones of 14.8.4. Conformance to PDF/UA is not claimed:
 * the file says nothing of it in its metadata.
 */

export type Kind =
  'Document' | 'H1' | 'H2' | 'H3' | 'P' | 'L' | 'LI' | 'LBody' | 'Figure' | 'Caption';

/** What is said in the place of what is drawn (14.9.3 and 14.9.4), and where it is drawn. */
export interface Spoken {
  /** Of a drawing: its words. */
  readonly alt?: string;
  /** Of letters that are not drawn as they are read: the letters. */
  readonly actual?: string;
  /** Of a drawing: left, lower, right and upper edge, pt. */
  readonly box?: readonly [number, number, number, number];
}

/** An element of the structure. */
export interface Tag {
  readonly kind: Kind;
  readonly spoken: Spoken;
  readonly children: (Tag | Marked)[];
}

/** A marked sequence of what a page draws. */
interface Marked {
  readonly page: PDFPage;
  readonly id: number;
}

/** What belongs to the page and not to the text (14.8.2.2): its head and number; its rules and marks. */
export type Artifact = 'Pagination' | 'Layout';

export interface Tags {
  readonly root: Tag;
  /** A new element, last under its parent. */
  under(parent: Tag, kind: Kind, spoken?: Spoken): Tag;
  /** What is drawn meanwhile belongs to this element. Never one within another. */
  mark(page: PDFPage, tag: Tag, draw: () => void): void;
  /** What is drawn meanwhile is not read. */
  artifact(page: PDFPage, kind: Artifact, draw: () => void): void;
  /** Writes the structure into the document, at its end. */
  write(): void;
}

const name = (text: string) => PDFName.of(text);

export function tagsOf(document: PDFDocument): Tags {
  const root: Tag = { kind: 'Document', spoken: {}, children: [] };
  /** The element of each marked sequence of a page, in the order of their numbers. */
  const owners = new Map<PDFPage, Tag[]>();

  function enclosed(page: PDFPage, tag: string, properties: string, draw: () => void): void {
    page.pushOperators(
      PDFOperator.of(PDFOperatorNames.BeginMarkedContentSequence, [name(tag), properties]),
    );
    draw();
    page.pushOperators(PDFOperator.of(PDFOperatorNames.EndMarkedContent));
  }

  return {
    root,
    under(parent, kind, spoken = {}) {
      const tag: Tag = { kind, spoken, children: [] };
      parent.children.push(tag);
      return tag;
    },
    mark(page, tag, draw) {
      const here = owners.get(page) ?? [];
      owners.set(page, here);
      const id = here.length;
      here.push(tag);
      tag.children.push({ page, id });
      enclosed(page, tag.kind, `<</MCID ${id}>>`, draw);
    },
    artifact(page, kind, draw) {
      enclosed(page, 'Artifact', `<</Type /${kind}>>`, draw);
    },
    write: () => write(document, root, owners),
  };
}

function write(
  document: PDFDocument,
  root: Tag,
  owners: ReadonlyMap<PDFPage, readonly Tag[]>,
): void {
  const { context, catalog } = document;
  const treeRef = context.nextRef();
  const refs = new Map<Tag, PDFRef>();
  const top = element(root, treeRef);

  function element(tag: Tag, parent: PDFRef): PDFRef {
    const dict = context.obj({ Type: 'StructElem', S: tag.kind, P: parent });
    const ref = context.register(dict);
    refs.set(tag, ref);
    speak(dict, tag.spoken);
    const children = tag.children.map((child) =>
      'kind' in child
        ? element(child, ref)
        : context.obj({ Type: 'MCR', Pg: child.page.ref, MCID: child.id }),
    );
    dict.set(name('K'), context.obj(children));
    return ref;
  }

  function speak(dict: PDFDict, { alt, actual, box }: Spoken): void {
    if (alt !== undefined) dict.set(name('Alt'), PDFHexString.fromText(alt));
    if (actual !== undefined) dict.set(name('ActualText'), PDFHexString.fromText(actual));
    if (box !== undefined) dict.set(name('A'), context.obj({ O: 'Layout', BBox: [...box] }));
  }

  // From a sequence on a page back to its element (14.7.4.4).
  const numbers = [...owners].flatMap(([page, tags], i) => {
    page.node.set(name('StructParents'), PDFNumber.of(i));
    // Fields are gone through in the order of the structure.
    page.node.set(name('Tabs'), name('S'));
    const elements = tags.flatMap((tag) => refs.get(tag) ?? []);
    return [PDFNumber.of(i), context.register(context.obj(elements))];
  });
  context.assign(
    treeRef,
    context.obj({
      Type: 'StructTreeRoot',
      K: [top],
      ParentTree: context.register(context.obj({ Nums: numbers })),
      ParentTreeNextKey: owners.size,
    }),
  );
  catalog.set(name('StructTreeRoot'), treeRef);
  catalog.set(name('MarkInfo'), context.obj({ Marked: true }));
}
