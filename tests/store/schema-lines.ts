import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { Event } from '#shared/event';
import { Manifest } from '../../src/store/manifest.ts';

/**
 * Every field of a record as a line of text, so that a change of the schema is a
 * difference that can be read. "?" marks a field that may be left out.
 *
 * Written by `node tests/load.mjs tests/store/schema-lines.ts`, which adds what
 * is new and keeps what is there.
 */
type Json = Record<string, unknown>;

const isJson = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The word that tells one member of a union from the others: `heard`, `opened` … */
function tagOf(member: unknown): string | null {
  if (!isJson(member) || !isJson(member['properties'])) return null;
  for (const name of ['kind', 'step', 'type', 'is', 'how']) {
    const field = member['properties'][name];
    if (isJson(field) && typeof field['const'] === 'string') return field['const'];
  }
  return null;
}

function walk(schema: unknown, path: string, defs: Json, out: Set<string>): void {
  if (!isJson(schema)) return;
  const ref = schema['$ref'];
  if (typeof ref === 'string') {
    const name = ref.replace('#/$defs/', '');
    if (path.split('/').length < 12) walk(defs[name], path, defs, out);
    return;
  }
  const union = schema['anyOf'] ?? schema['oneOf'];
  if (Array.isArray(union)) {
    for (const member of union as unknown[]) {
      const tag = tagOf(member);
      walk(member, tag === null ? path : `${path}<${tag}>`, defs, out);
    }
    return;
  }
  if ('const' in schema) out.add(`${path} = ${JSON.stringify(schema['const'])}`);
  else if (Array.isArray(schema['enum']))
    for (const value of schema['enum'] as unknown[]) out.add(`${path} = ${JSON.stringify(value)}`);
  else if (schema['type'] === 'object' && isJson(schema['properties'])) {
    const required = Array.isArray(schema['required']) ? (schema['required'] as unknown[]) : [];
    for (const [name, inner] of Object.entries(schema['properties']))
      walk(inner, `${path}/${name}${required.includes(name) ? '' : '?'}`, defs, out);
  } else if (schema['type'] === 'array') walk(schema['items'], `${path}[]`, defs, out);
  else out.add(`${path} : ${JSON.stringify(schema['type'] ?? 'anything')}`);
}

/** The lines of a schema, sorted. */
export function linesOf(schema: z.ZodType, name: string): readonly string[] {
  const json: unknown = z.toJSONSchema(schema, { io: 'output', unrepresentable: 'any' });
  const out = new Set<string>();
  const defs = isJson(json) && isJson(json['$defs']) ? json['$defs'] : {};
  walk(json, name, defs, out);
  return [...out].sort();
}

const file = (name: string) => fileURLToPath(new URL(`./fixtures/${name}`, import.meta.url));

/** What is guarded, and where its lines are kept. */
export const GUARDED = [
  { name: 'event', schema: Event, file: file('event-1.schema.txt') },
  { name: 'backup', schema: Manifest, file: file('backup-1.schema.txt') },
] as const;

export function kept(path: string): readonly string[] {
  return readFileSync(path, 'utf8').split('\n').filter(Boolean);
}

export async function main(): Promise<number> {
  for (const { name, schema, file: path } of GUARDED) {
    let before: readonly string[] = [];
    try {
      before = kept(path);
    } catch {
      // The first time there is none.
    }
    const all = [...new Set([...before, ...linesOf(schema, name)])].sort();
    writeFileSync(path, `${all.join('\n')}\n`);
    console.log(`${path}: ${all.length - before.length} new lines`);
  }
  return 0;
}
