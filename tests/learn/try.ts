import { FIRST_SCENE } from '#shared/scene';
import { ourReader, heardOf } from '../bench/grammar/ours.ts';
import { catalogueNamed } from '../../src/cli/catalogues.ts';
export function main([name = '', ...words]: string[]): number {
  const r = ourReader(catalogueNamed(name));
  for (const text of words) console.log(r.explain(heardOf(text), FIRST_SCENE));
  return 0;
}
