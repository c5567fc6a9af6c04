import { existsSync } from 'node:fs';
import { basename } from 'node:path';
import { parseCatalogue } from '#catalogue';
import { CATALOGUES } from '#seeds';
import type { Catalogue } from '#shared/catalogue';
import { Refusal } from './command.ts';
import { textOf } from './files.ts';

/** The starter catalogues, parsed. */
export function starters(): readonly Catalogue[] {
  return CATALOGUES.map(({ text, file }) => parsed(text, file));
}

/** A starter catalogue by its name, or one from a file. @throws Refusal that names line and path. */
export function catalogueNamed(nameOrFile: string): Catalogue {
  const starter = CATALOGUES.find((c) => c.name === nameOrFile);
  if (starter !== undefined) return parsed(starter.text, starter.file);
  if (existsSync(nameOrFile)) return parsed(textOf(nameOrFile), basename(nameOrFile));
  const names = CATALOGUES.map((c) => c.name).join(', ');
  throw new Refusal(`There is no catalogue "${nameOrFile}": neither a file nor one of ${names}.`);
}

function parsed(text: string, file: string): Catalogue {
  const result = parseCatalogue(text, file);
  if (result.ok) return result.catalogue;
  throw new Refusal(
    result.problems
      .map((p) => [`${p.file}:${p.line}:${p.column}`, p.path, p.text].filter(Boolean).join(': '))
      .join('\n'),
  );
}
