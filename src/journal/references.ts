/** Which records name which others, found and rewritten along the shapes so that no reference is forgotten. */
import type { HeadingKind, Records, TableName } from './records';
import { shapeOf, type Shape, type Spec } from './shapes';

interface Reference {
  to: TableName;
  id: string;
  /** The kind of heading it must name, where only one will do. */
  kind?: HeadingKind;
  /** True where plain words may stand instead of an id, so that naming nothing is no fault. */
  soft: boolean;
}

/** Calls `found` for every reference a row holds. `trail` is the path inside the row and is reused between calls. */
export function eachReference<T extends TableName>(
  table: T,
  row: Records[T],
  found: (reference: Reference, trail: readonly (string | number)[]) => void,
): void {
  const shape = shapeOf(table, row);
  if (shape) walkRecord(row, shape, [], found);
}

function walkRecord(
  row: object,
  shape: Shape,
  trail: (string | number)[],
  found: (reference: Reference, trail: readonly (string | number)[]) => void,
): void {
  for (const { name, spec } of shape.refs) {
    const value = (row as Record<string, unknown>)[name];
    if (value === undefined) continue;
    trail.push(name);
    walk(value, spec, trail, found);
    trail.pop();
  }
}

function walk(
  value: unknown,
  spec: Spec,
  trail: (string | number)[],
  found: (reference: Reference, trail: readonly (string | number)[]) => void,
): void {
  if (spec.is === 'ref') {
    found({ to: spec.to, id: value as string, kind: spec.kind, soft: false }, trail);
  } else if (spec.is === 'heading-or-words') {
    found({ to: 'headings', id: value as string, soft: true }, trail);
  } else if (spec.is === 'list') {
    (value as unknown[]).forEach((member, index) => {
      trail.push(index);
      walk(member, spec.of, trail, found);
      trail.pop();
    });
  } else if (spec.is === 'record') {
    walkRecord(value as object, spec.shape, trail, found);
  }
}

/**
 * The row with each reference put through `swap`, which answers the id to stand there, or undefined to take it out.
 * Where a reference is taken out, an optional field goes alone, a list loses the member, and a record that
 * cannot be without it goes whole: undefined then means the row itself cannot stay. A list of ids never holds one twice
 * afterwards. The row given is not touched, and comes back as it is where nothing changed.
 */
export function rewriteReferences<T extends TableName>(
  table: T,
  row: Records[T],
  swap: (reference: Reference) => string | undefined,
): Records[T] | undefined {
  const shape = shapeOf(table, row);
  if (!shape) return row;
  return rewriteRecord(row, shape, swap) as Records[T] | undefined;
}

function rewriteRecord(
  row: object,
  shape: Shape,
  swap: (reference: Reference) => string | undefined,
): object | undefined {
  let result = row as Record<string, unknown>;
  for (const { name, spec, must } of shape.refs) {
    const value = result[name];
    if (value === undefined) continue;
    const next = rewrite(value, spec, swap);
    if (next === value) continue;
    if (next === undefined && must) return undefined;
    if (result === row) result = { ...result };
    if (next === undefined) delete result[name];
    else result[name] = next;
  }
  return result;
}

function rewrite(
  value: unknown,
  spec: Spec,
  swap: (reference: Reference) => string | undefined,
): unknown {
  if (spec.is === 'ref') {
    return swap({ to: spec.to, id: value as string, kind: spec.kind, soft: false });
  }
  if (spec.is === 'heading-or-words')
    return swap({ to: 'headings', id: value as string, soft: true });
  if (spec.is === 'record') return rewriteRecord(value as object, spec.shape, swap);
  if (spec.is !== 'list') return value;
  const members = value as unknown[];
  const next = members.map((member) => rewrite(member, spec.of, swap));
  if (next.every((member, index) => member === members[index])) return value;
  const kept = next.filter((member) => member !== undefined);
  return spec.of.is === 'ref' ? [...new Set(kept)] : kept;
}
