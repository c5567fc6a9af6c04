import { stringify } from 'yaml';
import type { Catalogue } from '#shared/catalogue';

/** A catalogue to begin with: one station with one check, because a catalogue has at least that. */
export function emptyCatalogue(id: string, name: string, kind: Catalogue['kind']): string {
  return `# yaml-language-server: $schema=../catalogue.schema.json\n\n${stringify({
    v: 1,
    id,
    name: name.trim() === '' ? 'New catalogue' : name.trim(),
    kind,
    version: 1,
    stations: [
      {
        id: 'cockpit',
        name: 'Cockpit',
        place: { x: 50, y: 26 },
        checks: [{ id: 'documents', name: 'Documents' }],
      },
    ],
  })}`;
}
