import { FIRST_SCENE } from '#shared/scene';
import { ourReader, heardOf } from '../bench/grammar/ours.ts';
import { look } from '../../grammar/reader.ts';
import { tokensOf } from '../../grammar/tokens.ts';
import { catalogueNamed } from '../../src/cli/catalogues.ts';
import { ownPronunciations } from '../../grammar/sound/own.ts';
import { Matcher } from '../../grammar/matches/matches.ts';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { Signs } from '../../grammar/matches/heardas.ts';
import { InputMaker } from '../../grammar/scores/inputs.ts';
import { Net } from '../../grammar/scores/net.ts';
import { earOf } from '../../grammar/sound/ear.ts';
import { parseDictionary } from '#grammar';
import { dictionaryText } from '../bench/phones.ts';
import { ourWeights } from '../bench/grammar/ours.ts';
export function main(words: string[]): number {
  const catalogue = catalogueNamed('training-helicopter');
  const w = ourWeights();
  const roster = rosterOf(catalogue);
  const maker = new InputMaker(roster, new Matcher(roster, earOf(parseDictionary(dictionaryText()), ownPronunciations(catalogue)), w.vectors), new Signs(catalogue));
  const net = new Net(w);
  const r = ourReader(catalogue);
  for (const text of words) {
    const { tokens } = tokensOf({ text, words: [] });
    const { inputs, scores } = look('x', text, tokens, words0(FIRST_SCENE), { maker, net });
    console.log('#', text, scores.orders.map((x) => x.toFixed(2)).join(' '));
    scores.candidates.map((c, i) => ({ c, k: inputs.candidates[i]?.member?.key ?? '∅', f: inputs.candidates[i]! })).sort((a, b) => Math.max(b.c.result, b.c.talk, b.c.finding, b.c.ask) - Math.max(a.c.result, a.c.talk, a.c.finding, a.c.ask)).slice(0, 5)
      .forEach(({ c, k, f }) => console.log('   ', k, 'name', f.features[0]?.toFixed(2), `res ${c.result.toFixed(2)} good ${c.good.toFixed(2)} find ${c.finding.toFixed(2)} val ${c.value.toFixed(2)} ask ${c.ask.toFixed(2)} talk ${c.talk.toFixed(2)}`));
    void r; void heardOf;
  }
  return 0;
}
function words0(s: typeof FIRST_SCENE): typeof FIRST_SCENE {
  const say = process.env['BEFORE'];
  return say === undefined ? s : { ...s, talk: { ...s.talk, turns: say.split('|').map((text, i) => ({ heard: String(i), text, said: {} })) } };
}
