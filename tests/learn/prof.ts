import { ourReader, heardOf } from '../bench/grammar/ours.ts';
import { FIRST_SCENE } from '#shared/scene';
import { ownWalks } from '../corpus/walks.ts';
export function main(): number {
  const walk = ownWalks('tune')[3]!;
  const r = ourReader(walk.catalogue);
  for (let k = 0; k < 4; k += 1) {
    const t = process.cpuUsage();
    let scene = FIRST_SCENE;
    walk.talk.forEach((u, i) => {
      scene = r.read(heardOf(u.say + ' '.repeat(k), `h${k}/${i}`), scene).scene;
    });
    const c = process.cpuUsage(t);
    console.log(((c.user + c.system) / 1000 / walk.talk.length).toFixed(2), 'ms cpu');
  }
  return 0;
}
