import type { Attack } from './attacks.ts';
import type { Outcome } from './routes.ts';
import type { Specimen } from './specimen.ts';

export async function appRoute(
  sample: readonly { specimen: Specimen; attack: Attack }[],
  note: (name: string, outcome: Outcome) => void,
): Promise<void> {
  void sample;
  void note;
}
