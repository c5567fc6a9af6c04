import { Document, isMap, isSeq, type YAMLMap, type YAMLSeq } from 'yaml';
import { idOf, type Catalogue } from '#shared/catalogue';
import type { Draft, DraftCheck } from './draft.ts';

/** Begins the comment of something that was guessed, until its author has looked at it. */
export const TO_CONFIRM = 'to confirm:';
/** Heads the list of lines that became nothing, at the end of the file. */
export const LEFT_HEAD = 'Lines of the text that became nothing:';
const SCHEMA = ' yaml-language-server: $schema=../catalogue.schema.json';
/** Ids are at most 80 characters; a number may follow. */
const LONGEST_ID = 70;

/** Ids that are each their own: `oil`, then `nose-oil` at another station, then `oil-2`. */
export function freeId(name: string, taken: ReadonlySet<string>, before = ''): string {
  const own = idOf(name).slice(0, LONGEST_ID).replace(/-$/, '') || 'check';
  if (!taken.has(own)) return own;
  const longer = before === '' ? own : `${before}-${own}`.slice(0, LONGEST_ID).replace(/-$/, '');
  if (!taken.has(longer)) return longer;
  let n = 2;
  while (taken.has(`${own}-${n}`)) n += 1;
  return `${own}-${n}`;
}

/** The draft as an author's file: each guess is a comment beside what was guessed, and the lines that became nothing stand at its end. */
export function draftYaml(draft: Draft, id: string, text = ''): string {
  const source = text.split(/\r\n|[\n\r\f\v\u2028\u2029]/);
  const stationIds = new Set<string>();
  const checkIds = new Set<string>();
  const remarks: string[][][] = [];
  const shared = linesOfMany(draft);
  const stations = draft.stations.map((s) => {
    const stationId = freeId(s.name, stationIds);
    stationIds.add(stationId);
    remarks.push(s.checks.map((c) => remarksOf(c, source, shared)));
    return {
      id: stationId,
      name: s.name,
      place: s.place,
      ...(s.caution === null ? {} : { caution: s.caution.slice(0, 500) }),
      checks: s.checks.map((c) => {
        const checkId = freeId(c.name, checkIds, stationId);
        checkIds.add(checkId);
        return checkValue(c, checkId);
      }),
    };
  });
  const doc = new Document({
    v: 1,
    id,
    name: draft.name,
    kind: draft.kind,
    version: 1,
    source: 'Made from a pasted text; say here which one, and its date.',
    ...(draft.cautions.length === 0
      ? {}
      : { cautions: draft.cautions.map((c) => c.text.slice(0, 500)) }),
    stations,
  });
  const list = doc.get('stations');
  if (isSeq(list)) mark(list, remarks);
  doc.commentBefore = SCHEMA;
  if (draft.left.length > 0)
    doc.comment = [LEFT_HEAD, ...draft.left.map((l) => `line ${l.line}: ${oneLine(l.text)}`)]
      .map((l) => ` ${l}`)
      .join('\n');
  return doc.toString({ lineWidth: 100, flowCollectionPadding: true });
}

function checkValue(c: DraftCheck, id: string): Record<string, unknown> {
  const counted = c.places.every((p) => /^\d+$/.test(p));
  const measureIds = new Set<string>();
  return {
    id,
    name: c.name,
    ...(c.aspects.length === 0 ? {} : { aspects: c.aspects }),
    ...(c.acts.length === 1 && c.acts[0] === 'look' ? {} : { acts: c.acts }),
    ...(c.places.length === 0 ? {} : { repeat: counted ? c.places.length : c.places }),
    ...(c.measures.length === 0
      ? {}
      : {
          measures: c.measures.map((m) => {
            const measureId = freeId(m.name, measureIds);
            measureIds.add(measureId);
            return {
              id: measureId,
              name: m.name,
              unit: m.unit,
              ...(m.low === null ? {} : { low: m.low }),
              ...(m.high === null ? {} : { high: m.high }),
            };
          }),
        }),
    ...(c.caution === null ? {} : { caution: c.caution }),
  };
}

function remarksOf(
  c: DraftCheck,
  source: readonly string[],
  shared: ReadonlySet<number>,
): string[] {
  // Of a paragraph that many checks come from, each has its own words.
  const said =
    c.lines.every((l) => shared.has(l)) && c.action !== ''
      ? c.action
      : c.lines.map((l) => source[l - 1]?.trim() ?? '').join(' / ');
  const from = said === '' ? [] : [` line ${c.lines.join(', ')}: ${oneLine(said)}`];
  return [...from, ...c.guesses.map((g) => ` ${TO_CONFIRM} ${oneLine(g)}`)];
}

/** Lines that more than one check was made from. */
function linesOfMany({ stations }: Draft): ReadonlySet<number> {
  const seen = new Set<number>();
  const many = new Set<number>();
  for (const line of stations.flatMap((s) => s.checks.flatMap((c) => c.lines))) {
    if (seen.has(line)) many.add(line);
    seen.add(line);
  }
  return many;
}

/** A comment is one line; what would break it is a space. Cut only where no line of a checklist is as long. */
function oneLine(text: string): string {
  // eslint-disable-next-line no-control-regex
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ').trim();
}

function mark(stations: YAMLSeq, remarks: readonly (readonly (readonly string[])[])[]): void {
  stations.items.forEach((station, s) => {
    if (!isMap(station)) return;
    const place = station.get('place');
    if (isMap(place)) place.flow = true;
    const checks = station.get('checks');
    if (!isSeq(checks)) return;
    checks.items.forEach((check, c) => {
      const lines = remarks[s]?.[c] ?? [];
      if (!isMap(check)) return;
      if (lines.length > 0) check.commentBefore = lines.join('\n');
      flow(check, ['aspects', 'acts', 'repeat']);
      const measures = check.get('measures');
      if (isSeq(measures)) for (const m of measures.items) if (isMap(m)) m.flow = true;
    });
  });
}

function flow(map: YAMLMap, keys: readonly string[]): void {
  for (const key of keys) {
    const node = map.get(key);
    if (isSeq(node)) node.flow = true;
  }
}

/** What an author need not write: the values that the schema puts there. */
const DEFAULTS: Readonly<Record<string, string>> = {
  say: '[]',
  conditions: '[]',
  aspects: '[]',
  acts: '["look"]',
  required: '"always"',
  blanket: 'false',
  optional: 'false',
  plural: 'false',
  signs: '[]',
  measures: '[]',
  pronounce: '{}',
  followUps: '[]',
  anywhere: 'false',
  inOrder: 'false',
  language: '"en"',
  cautions: '[]',
  gauges: '[]',
};

/** A catalogue in its full form as an author would write it. Read again, it is the same edition. */
export function catalogueYaml(catalogue: Catalogue): string {
  const doc = new Document(shorter(catalogue));
  doc.commentBefore = SCHEMA;
  const stations = doc.get('stations');
  if (isSeq(stations)) mark(stations, []);
  return doc.toString({ lineWidth: 100 });
}

function shorter(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(shorter);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, inner]) =>
      inner === undefined || DEFAULTS[key] === JSON.stringify(inner)
        ? []
        : [[key, key === 'repeat' ? repeatOf(inner) : shorter(inner)]],
    ),
  );
}

/** The places of a repeat, listed; a plural that speaks for all needs the long form. */
function repeatOf(repeat: unknown): unknown {
  const { instances, plural } = repeat as { instances: readonly string[]; plural: boolean };
  return plural ? { of: instances, plural } : instances;
}
