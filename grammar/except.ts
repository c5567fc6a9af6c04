import type { Catalogue } from '#shared/catalogue';
import type { About, Observation, Statement } from '#shared/statement';
import { joint } from './joints.ts';
import { phraseWords } from './tokens.ts';

type Blanket = Observation & { readonly about: Extract<About, { kind: 'station' }> };

/**
 * "Everything on the tail boom is good except the antenna and the beacon": a
 * blanket leaves out the checks of its station that are named behind a word of
 * exception, until something else is said in full (R7). What is said about
 * those checks themselves counts as it always does.
 *
 * @param raw The words as heard.
 */
export function withExceptions(
  statements: readonly Statement[],
  raw: readonly string[],
  catalogue: Catalogue,
): Statement[] {
  return statements.map((statement, i) => {
    if (!isBlanket(statement)) return statement;
    const except = exceptedBy(statement, statements.slice(i + 1), raw, catalogue);
    if (except.length === 0)
      return endsExcepting(statement)
        ? { ...statement, doubtful: statement.doubtful ?? 'what is left out was not understood' }
        : statement;
    return {
      ...statement,
      about: { ...statement.about, except: [...new Set([...statement.about.except, ...except])] },
      why: [...statement.why, `left out: ${except.join(', ')}`],
    };
  });
}

function isBlanket(s: Statement): s is Blanket {
  return s.kind === 'observation' && s.about.kind === 'station';
}

/** "The right wing's all good bar the tip light", and no check is called so. */
function endsExcepting(blanket: Blanket): boolean {
  if (blanket.force !== 'result' || blanket.verdict?.good !== true) return false;
  return phraseWords(blanket.span.words).some(
    (w) => w !== 'but' && w !== 'than' && joint('exception').has(w),
  );
}

function exceptedBy(
  blanket: Blanket,
  behind: readonly Statement[],
  raw: readonly string[],
  catalogue: Catalogue,
): string[] {
  const { station } = blanket.about;
  const here = catalogue.stations.find((s) => s.id === station)?.checks.map((c) => c.id) ?? [];
  const first = behind[0];
  if (first === undefined) return [];
  // The word of exception ends the blanket or begins what follows, whichever clause took it.
  const between = raw.slice(blanket.span.from, first.span.to).flatMap((w) => phraseWords(w));
  if (!between.some((word) => joint('exception').has(word))) return [];
  const except: string[] = [];
  for (const s of behind) {
    const said = s.kind === 'two-candidates' ? s.said : s;
    if (said.kind !== 'observation' || said.about.kind !== 'check') break;
    if (!here.includes(said.about.check)) break;
    except.push(said.about.check);
    // "… except the antenna, loose": said in full, and what comes behind is a sentence of its own.
    if (said.force === 'result' && said.doubtful === null) break;
  }
  return except;
}
