import { limitText, outsideOf, worstOf } from '#shared/abnormal';
import type { Catalogue, Check } from '#shared/catalogue';
import type { Finding } from '#shared/coverage';
import type { Observation } from '#shared/statement';
import { bare } from './words.ts';

/**
 * The value that makes a finding: of several statements the last, of a row the one
 * that is farthest out, with every other beside it. null: none lies outside.
 */
export function foundValue(
  catalogue: Catalogue,
  check: Check | null,
  said: readonly Observation[],
): Finding['value'] {
  const outside = said.map((s) => outsideOf(catalogue, check, s)).findLast((o) => o.length > 0);
  const worst = outside === undefined ? null : worstOf(catalogue, outside);
  if (worst === null || outside === undefined) return null;
  const told = ({ value }: typeof worst) => ({
    said: bare(value.span.words),
    ...(value.inUnit === null ? {} : { inUnit: value.inUnit }),
  });
  const each = outside.filter((o) => o.at !== undefined && o.measure === worst.measure);
  return {
    measure: worst.measure.id,
    ...told(worst),
    limit: limitText(worst.measure),
    ...(each.length === 0
      ? {}
      : { each: each.map((o) => ({ instance: o.at?.[0] ?? null, ...told(o) })) }),
  };
}
