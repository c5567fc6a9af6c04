import { catalogueJsonSchema } from '../schema.ts';
import type { Path } from '../problem.ts';

/** A field that may stand at a place of the file, with the schema's words about it. */
export interface FieldHelp {
  readonly name: string;
  readonly about: string;
  /** The words that it takes, where there are only some. */
  readonly values: readonly string[];
  /** true or false. */
  readonly flag: boolean;
}

type Shape = Readonly<Record<string, unknown>>;
let schema: Shape | undefined;

/** The fields that may stand in the map at a path, such as `['stations', 0, 'checks', 2]`. */
export function fieldsFor(path: Path): readonly FieldHelp[] {
  schema ??= catalogueJsonSchema();
  let at = forms(schema);
  for (const step of path) at = at.flatMap((shape) => forms(child(shape, step)));
  const found = new Map<string, FieldHelp>();
  for (const shape of at) {
    const properties = shape['properties'];
    if (!isShape(properties)) continue;
    for (const [name, value] of Object.entries(properties)) {
      if (found.has(name)) continue;
      const shapes = forms(value);
      found.set(name, {
        name,
        about: shapes.map((s) => s['description']).find((d) => typeof d === 'string') ?? '',
        values: shapes.flatMap((s) =>
          Array.isArray(s['enum'])
            ? s['enum'].map(String)
            : s['const'] !== undefined
              ? [String(s['const'])]
              : [],
        ),
        flag: shapes.some((s) => s['type'] === 'boolean'),
      });
    }
  }
  return [...found.values()];
}

function child(shape: Shape, step: string | number): unknown {
  if (typeof step === 'number') return shape['items'];
  const properties = shape['properties'];
  return isShape(properties) && Object.hasOwn(properties, step) ? properties[step] : undefined;
}

function forms(shape: unknown): readonly Shape[] {
  if (!isShape(shape)) return [];
  const any = shape['anyOf'];
  return Array.isArray(any)
    ? [{ description: shape['description'] }, ...any.flatMap(forms)]
    : [shape];
}

function isShape(value: unknown): value is Shape {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
