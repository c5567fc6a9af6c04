import { readFileSync } from 'node:fs';
import { parseDictionary } from '#grammar';
import { FIRST_TALK, SAID, TURNS, type Talk } from '#shared/talk';
import { ownPronunciations } from '../../grammar/sound/own.ts';
import { Matcher } from '../../grammar/matches/matches.ts';
import { rosterOf } from '../../grammar/matches/roster.ts';
import { Signs } from '../../grammar/matches/heardas.ts';
import { settled } from '../../grammar/scores/belief.ts';
import { InputMaker } from '../../grammar/scores/inputs.ts';
import { Net } from '../../grammar/scores/net.ts';
import { earOf } from '../../grammar/sound/ear.ts';
import { tokensOf } from '../../grammar/tokens.ts';
import { dictionaryText } from '../bench/phones.ts';
import { ownWeights_ } from './w.ts';
import { ownWalks } from '../corpus/walks.ts';
import { saidOf } from './export.ts';
export function main(): number {
  const truth = JSON.parse(readFileSync('/work/learn/parity.json', 'utf8')) as any[];
  const w = ownWeights_();
  const walk = ownWalks('tune').find((x) => x.id === truth[0].walk)!;
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
  let talk: Talk = FIRST_TALK;
  let said: any = {};
  let k = 0;
  let worst = 0;
  walk.talk.forEach((u, i) => {
    const { tokens } = tokensOf({ text: u.say, words: [] });
    const before = talk.belief;
    const belief = maker.believe(before, u.say);
    const inputs = maker.make(
      u.say,
      tokens,
      { ...talk, belief, at: u.at },
      before.length === 0 ? belief : before,
      said,
      null,
    );
    const s = net.score(inputs);
    const t = truth[k++];
    if (t !== undefined) {
      let max = 0;
      let at = '';
      s.candidates.forEach((c, j) => {
        const mine = [
          c.result,
          c.good,
          c.finding,
          c.value,
          c.ask,
          c.talk,
          c.done,
          c.amends,
          c.excepted,
        ];
        mine.forEach((x, q) => {
          const e = Math.abs(x - t.p[j][q]);
          if (e > max) {
            max = e;
            at = `${t.keys[j]} ${q} ${x.toFixed(3)} ${t.p[j][q]}`;
          }
        });
      });
      const keys = inputs.candidates.map((c) => c.member?.key ?? '');
      console.log(i, tokens.length, keys.join() === t.keys.join(), max.toFixed(3), at);
      worst = Math.max(worst, max);
    }
    const own = saidOf(u.labels);
    const ever = { ...talk.ever };
    let now = belief;
    for (const [key, { what, places }] of Object.entries(own)) {
      ever[key] = (ever[key] ?? 0) | what;
      const m = roster.byKey.get(key);
      if (m && what & SAID.result) {
        now = settled(now, m.stationIndex);
        said = { ...said, [key]: [...new Set([...(said[key] ?? []), ...places])] };
      }
    }
    talk = {
      turns: [...talk.turns, { heard: String(i), text: u.say, said: own }].slice(-TURNS),
      ever,
      belief: now,
      at: null,
    };
  });
  console.log('worst', worst);
  return 0;
}
