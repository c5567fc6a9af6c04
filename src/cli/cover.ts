import { basename } from 'node:path';
import { LARGEST_WAV_MB, transcriptHeard } from '#capture';
import { editionOf } from '#catalogue';
import { createGrammar, type Pronunciations } from '#grammar';
import { sheetText, summaryOf } from '#report';
import { memoryStore } from '#store';
import { withName, realWorld, walkThrough } from '#wire';
import type { Catalogue } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import type { Heard } from '#shared/heard';
import { FIRST_SCENE } from '#shared/scene';
import { catalogueNamed, starters } from './catalogues.ts';
import { EXIT_COVERED, EXIT_GAPS, Refusal, wordsOf, type Command } from './command.ts';
import { bytesOf, LARGEST_TEXT, notLarger } from './files.ts';
import { pronunciations } from './pronunciations.ts';
import { heardInSound, isSound } from './sound.ts';
import { scores, scoresHash } from './scores.ts';

/** Utterances that are looked at to tell which catalogue a walk is about. */
const UTTERANCES_TO_TELL = 40;

export const cover: Command = {
  name: 'cover',
  summary: 'the coverage sheet of a walk from a transcript or a sound file',
  usage: 'FILE [--catalogue NAME|FILE] [--context first-flight,night,cold,…] [--why] [--json]',
  async run(words, print) {
    const { values, positionals } = wordsOf(
      this,
      words,
      {
        catalogue: { type: 'string' },
        context: { type: 'string' },
        why: { type: 'boolean', default: false },
        json: { type: 'boolean', default: false },
      },
      1,
      1,
    );
    const file = positionals[0] ?? '';
    const bytes = bytesOf(file, LARGEST_WAV_MB * 1024 * 1024);
    const dictionary = pronunciations();
    const named = values.catalogue === undefined ? null : catalogueNamed(values.catalogue);
    const circumstances = circumstancesOf(values.context);
    const sound = isSound(bytes, file);
    if (!sound) notLarger(file, bytes.length, LARGEST_TEXT);
    const heard = sound
      ? await heardInSound(bytes, file, named ?? defaultForSound(), dictionary)
      : heardInText(bytes, file);
    const catalogue = named ?? bestFitting(heard, dictionary);
    const grammar = createGrammar(catalogue, { pronunciations: dictionary, weights: scores() });
    const world = realWorld();
    const { coverage, events } = await walkThrough({
      catalogue,
      reader: withName(grammar, scoresHash()),
      log: await memoryStore(world),
      world,
      heard,
      aircraft: 'from a file',
      circumstances,
    });
    const summary = summaryOf(coverage);
    if (values.json) {
      const edition = editionOf(catalogue);
      const result = { file, catalogue: catalogue.id, edition, summary, coverage };
      print(JSON.stringify(values.why ? { ...result, events } : result, null, 2));
    } else {
      print(sheetText(coverage, catalogue, { why: values.why }));
    }
    const covered = summary.spoken + allowedAside(coverage.checks, catalogue) === summary.required;
    return covered ? EXIT_COVERED : EXIT_GAPS;
  },
};

/** Checks set aside count as settled only where the catalogue lets them be left out. */
function allowedAside(
  checks: readonly { check: string; standing: string; required: { today: boolean } }[],
  catalogue: Catalogue,
): number {
  const optional = new Set(
    catalogue.stations.flatMap((s) => s.checks.filter((c) => c.optional).map((c) => c.id)),
  );
  return checks.filter(
    (c) => c.required.today && c.standing === 'set-aside' && optional.has(c.check),
  ).length;
}

function heardInText(bytes: Uint8Array, file: string): Heard[] {
  const result = transcriptHeard(bytes, basename(file));
  if (!result.ok) throw new Refusal(result.error);
  for (const warning of result.warnings) process.stderr.write(`${warning}\n`);
  return result.heard;
}

function circumstancesOf(list: string | undefined): Circumstance[] {
  return (list ?? '')
    .split(',')
    .filter((word) => word !== '')
    .map((word) => {
      const parsed = Circumstance.safeParse(word.trim());
      if (parsed.success) return parsed.data;
      throw new Refusal(
        `--context does not know "${word}". It takes: ${Circumstance.options.join(', ')}.`,
      );
    });
}

/** A recogniser has to know the words before it hears them; the first starter serves when none is named. */
function defaultForSound(): Catalogue {
  const [first] = starters();
  if (first === undefined) throw new Refusal('There is no catalogue; name one with --catalogue.');
  process.stderr.write(
    `No catalogue was named, so the words are listened for in ${first.id}; name another with --catalogue.\n`,
  );
  return first;
}

/** The starter catalogue of which most different checks are named; says which. */
function bestFitting(heard: readonly Heard[], dictionary: Pronunciations): Catalogue {
  const ranked = starters()
    .map((catalogue) => ({ catalogue, named: checksNamed(catalogue, heard, dictionary) }))
    .sort((a, b) => b.named - a.named);
  const best = ranked[0];
  if (best === undefined || best.named === 0) {
    throw new Refusal(
      'None of the starter catalogues fits these words; name the aircraft’s own with --catalogue.',
    );
  }
  process.stderr.write(
    `No catalogue was named; ${best.catalogue.id} fits the words best. Name another with --catalogue.\n`,
  );
  return best.catalogue;
}

function checksNamed(catalogue: Catalogue, heard: readonly Heard[], dictionary: Pronunciations) {
  const grammar = createGrammar(catalogue, { pronunciations: dictionary, weights: scores() });
  const named = new Set<string>();
  let scene = FIRST_SCENE;
  for (const utterance of heard.slice(0, UTTERANCES_TO_TELL)) {
    const reading = grammar.read(utterance, scene);
    scene = reading.scene;
    for (const s of reading.statements) {
      if (s.kind === 'observation' && s.about.kind === 'check') named.add(s.about.check);
    }
  }
  return named.size;
}
