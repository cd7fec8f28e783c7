/** Older journal files brought up to this version, one step at a time. A step gets JSON that nobody has checked yet. */
import { isRecord } from './shape-check';

export const FORMAT = 'bookweft-journal';
/** The version written; those from 0 to here are read. */
export const VERSION = 1;

type FileJson = Record<string, unknown>;

/** The step at index n leads from version n to n + 1. A step alters what it is handed and must pass over what it does not understand. */
const STEPS: readonly ((file: FileJson) => void)[] = [tiesGetRoles];

/** Brings a file from `version` (0 to {@link VERSION}) to {@link VERSION} in place. */
export function migrate(file: FileJson, version: number): void {
  for (const step of STEPS.slice(version)) step(file);
}

/**
 * Version 0 had ties without a role and did not say who made them. A quote is from its book and by its people; everything else is
 * about what it is tied to. All of them were the reader's own.
 */
function tiesGetRoles(file: FileJson): void {
  const kinds = new Map<unknown, unknown>();
  for (const heading of recordsIn(file.headings)) kinds.set(heading.id, heading.kind);
  for (const entry of recordsIn(file.entries)) {
    for (const tie of recordsIn(entry.ties)) {
      const quoted = entry.kind === 'quote' ? kinds.get(tie.heading) : undefined;
      tie.role ??= quoted === 'book' ? 'from' : quoted === 'person' ? 'by' : 'about';
      tie.by ??= 'reader';
    }
  }
}

const recordsIn = (value: unknown): FileJson[] =>
  Array.isArray(value) ? value.filter((member): member is FileJson => isRecord(member)) : [];
