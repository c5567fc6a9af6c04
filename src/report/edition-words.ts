import type { Catalogue } from '#shared/catalogue';

/** So many sources of single checks are named; the rest is counted. */
const SOURCES = 6;

/** "Catalogue: Swift glider, version 2 of 2026-03-01 by K. Rowan (edition 1a2b3c4d5e6f)." */
export function editionWords(catalogue: Catalogue, edition: string | null): string {
  const { version, history } = catalogue;
  const change = history?.find((h) => h.version === version);
  const of = change === undefined ? '' : ` of ${change.on} by ${change.by}`;
  const counted = version === undefined ? '' : `, version ${version}${of}`;
  return `Catalogue: ${catalogue.name}${counted} (edition ${edition?.slice(0, 12) ?? 'unknown'}).`;
}

/** Where the catalogue and its checks come from, and on what terms it may be given away. */
export function sourceWords(catalogue: Catalogue): string[] {
  const checks = catalogue.stations.flatMap((s) => s.checks).flatMap((c) => c.source ?? []);
  const own = [...new Set(checks)].filter((s) => s !== catalogue.source);
  const more = own.length - SOURCES;
  return [
    ...(catalogue.source === undefined ? [] : [`Source: ${ended(catalogue.source)}`]),
    ...(own.length === 0
      ? []
      : [
          `Sources of single checks: ${own.slice(0, SOURCES).join('; ')}${more > 0 ? `; and ${more} more` : ''}.`,
        ]),
    ...(catalogue.licence === undefined ? [] : [`Licence: ${ended(catalogue.licence)}`]),
  ];
}

function ended(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
