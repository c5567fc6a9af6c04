import { parseDictionary } from '#grammar';
import { FIRST_SCENE } from '#shared/scene';
import { ownPronunciations } from '../../grammar/sound/own.ts';
import { Matcher } from '../../grammar/matches/matches.ts';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { Signs } from '../../grammar/matches/heardas.ts';
import { InputMaker } from '../../grammar/scores/inputs.ts';
import { Net, ORDERS } from '../../grammar/scores/net.ts';
import { earOf } from '../../grammar/sound/ear.ts';
import { look } from '../../grammar/reader.ts';
import { tokensOf } from '../../grammar/tokens.ts';
import { dictionaryText } from '../bench/phones.ts';
import { ourWeights } from '../bench/grammar/ours.ts';
import { ownWalks } from '../corpus/walks.ts';
export function main(): number {
  const w = ourWeights();
  const walk = ownWalks('tune')[0]!;
  const roster = rosterOf(walk.catalogue);
  const maker = new InputMaker(
    roster,
    new Matcher(
      roster,
      earOf(parseDictionary(dictionaryText()), ownPronunciations(walk.catalogue)),
      w.vectors,
    ),
    new Signs(walk.catalogue),
  );
  const net = new Net(w);
  walk.talk.forEach((u) => {
    const { tokens } = tokensOf({ text: u.say, words: [] });
    const { scores, inputs } = look('x', u.say, tokens, FIRST_SCENE, { maker, net });
    const o = u.labels.filter((l) => l.kind === 'order').map((l: any) => l.name + ' ' + l.of);
    if (o.length > 0)
      console.log(
        u.say,
        '|',
        o.join(),
        '|',
        scores.orders.map((x, i) => `${ORDERS[i]} ${x.toFixed(2)}`).join(' '),
        inputs.candidates.at(-1)?.member,
      );
  });
  return 0;
}
