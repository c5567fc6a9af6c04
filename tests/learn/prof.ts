import { ourReader, heardOf } from '../bench/grammar/ours.ts';
import { FIRST_SCENE } from '#shared/scene';
import { ownWalks } from '../corpus/walks.ts';
export function main(): number {
  const walk = ownWalks('tune')[3]!;
  const r = ourReader(walk.catalogue);
  for (let k = 0; k < 3; k += 1) {
    const t = performance.now();
    let scene = FIRST_SCENE;
    walk.talk.forEach((u, i) => { scene = r.read(heardOf(u.say + (k > 0 ? ' ' : ''), `h${k}/${i}`), scene).scene; });
    console.log(((performance.now() - t) / walk.talk.length).toFixed(2), 'ms');
  }
  return 0;
}
