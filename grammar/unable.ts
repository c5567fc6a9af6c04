/**
 * A function denied, in all the ways people say it: "does not latch", "won't latch",
 * "no longer latches", "refuses to latch", "latches no more". Speakers whose own
 * tongue denies otherwise say "no latches", "doesn't latches", "not latch".
 */
const BEFORE_BASE =
  'does not,do not,did not,will not,would not,can not,could not,never,barely,hardly,scarcely,no longer,refuses to,refuse to,refused to,is refusing to,fails to,fail to,failed to,does not want to,do not want to,did not want to,unable to,not able to,can hardly,will hardly,can barely,will barely,is not going to,does never,do no,does no,is not to,are not to,is no to'.split(
    ',',
  );
const BEFORE_THIRD =
  'does not,do not,never,barely,hardly,scarcely,no longer,no more,only just'.split(',');
const BEFORE_ING = 'not,no longer,never,barely,hardly,stopped,quit'.split(',');

/** Third person of a verb, as the spelling has it. */
function third(verb: string): string {
  if (/(s|x|z|ch|sh|o)$/.test(verb)) return `${verb}es`;
  return /[^aeiou]y$/.test(verb) ? `${verb.slice(0, -1)}ies` : `${verb}s`;
}

/** The form in -ing. Short verbs double their last letter ("shut", "spin"). */
function ing(verb: string): string {
  if (/[^e]e$/.test(verb)) return `${verb.slice(0, -1)}ing`;
  if (/^[^aeiou]*[aeiou][bdgklmnprt]$/.test(verb)) return `${verb}${verb.slice(-1)}ing`;
  return `${verb}ing`;
}

/** Every way to say that something does not do what these verbs say. */
export function unable(verbs: readonly string[]): string[] {
  const out: string[] = [];
  for (const phrase of verbs) {
    const [verb = '', ...rest] = phrase.split(' ');
    const tail = rest.length === 0 ? '' : ` ${rest.join(' ')}`;
    for (const before of BEFORE_BASE) out.push(`${before} ${verb}${tail}`);
    for (const before of BEFORE_THIRD) out.push(`${before} ${third(verb)}${tail}`);
    for (const before of BEFORE_ING) out.push(`${before} ${ing(verb)}${tail}`);
  }
  return out;
}
