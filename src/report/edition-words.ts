import type { Catalogue, Change } from '#shared/catalogue';

/** So many sources of single checks are named; the rest is counted. */
const SOURCES = 6;
/** Digits of an edition that are shown: no two editions of one school are alike in as many. */
const DIGITS = 12;

/** What a walk was counted by, and where that comes from. */
export interface EditionTold {
  readonly name: string;
  /** null: its author counts none. */
  readonly version: number | null;
  /** Who gave this version out, and when; null: the catalogue does not say. */
  readonly change: Change | null;
  /** Its first digits; null: the walk does not say which it was. */
  readonly edition: string | null;
  readonly source: string | null;
  readonly licence: string | null;
  /** Sources of single checks that are not the catalogue's own. */
  readonly sources: readonly string[];
  /** So many more are not named. */
  readonly more: number;
}

export function editionTold(catalogue: Catalogue, edition: string | null): EditionTold {
  const { name, version, history, source, licence } = catalogue;
  const checks = catalogue.stations.flatMap((s) => s.checks).flatMap((c) => c.source ?? []);
  const own = [...new Set(checks)].filter((s) => s !== source);
  return {
    name,
    version: version ?? null,
    change: history?.find((h) => h.version === version) ?? null,
    edition: edition?.slice(0, DIGITS) ?? null,
    source: source ?? null,
    licence: licence ?? null,
    sources: own.slice(0, SOURCES),
    more: Math.max(0, own.length - SOURCES),
  };
}

/** For documents: "Catalogue: Swift glider, version 2 of 2026-03-01 by K. Rowan (edition 1a2b3c4d5e6f).", its sources and its licence. */
export function editionLines(catalogue: Catalogue, edition: string | null): string[] {
  const told = editionTold(catalogue, edition);
  const of = told.change === null ? '' : ` of ${told.change.on} by ${told.change.by}`;
  const counted = told.version === null ? '' : `, version ${told.version}${of}`;
  const more = told.more === 0 ? '' : `; and ${told.more} more`;
  return [
    `Catalogue: ${told.name}${counted} (edition ${told.edition ?? 'unknown'}).`,
    ...(told.source === null ? [] : [`Source: ${ended(told.source)}`]),
    ...(told.sources.length === 0
      ? []
      : [`Sources of single checks: ${ended(`${told.sources.join('; ')}${more}`)}`]),
    ...(told.licence === null ? [] : [`Licence: ${ended(told.licence)}`]),
  ];
}

/** As a sentence: with one full stop behind it. */
export function ended(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
