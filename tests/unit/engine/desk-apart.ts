/** Desks on several devices that hand each other copies, for tests of taking copies in. */
import { strToU8 } from 'fflate';
import type { EntryDraft } from '../../../src/engine/desk';
import type { DeskOver } from '../../../src/engine/desk-over';
import { readJournalFile, writeJournalFile } from '../../../src/journal/file';
import type { EntryId, Journal } from '../../../src/journal/records';
import { MemoryStore } from '../../../src/keep/memory-store';
import { journalOf } from '../journal/few';
import { must, opened } from './desk-setup';

export const id = (text: string): EntryId => text as EntryId;
export const draft = (text: string, more: Partial<EntryDraft> = {}): EntryDraft => ({
  kind: 'note',
  text,
  ties: [],
  ...more,
});
export const bufferOf = (bytes: Uint8Array | string): ArrayBuffer =>
  (typeof bytes === 'string' ? strToU8(bytes) : bytes).slice().buffer as ArrayBuffer;
export const fileOf = (journal: Journal): ArrayBuffer => bufferOf(writeJournalFile(journal));
export const readFile = (bytes: ArrayBuffer): Journal => {
  const read = readJournalFile(new TextDecoder().decode(bytes));
  if (!read.ok) throw new Error(read.message);
  return read.journal;
};

/** Answers what was said of it. */
export async function take(
  desk: DeskOver,
  bytes: ArrayBuffer,
  how: 'replace' | 'merge',
): Promise<string> {
  const looked = await desk.lookInto('copy', bytes);
  if (!looked.ok) throw new Error(looked.said);
  return (await must(desk.takeCopy(how))).said;
}
export const journalIn = (desk: DeskOver): Journal => desk.engine.journal;
export const textOf = (desk: DeskOver, of: string): string =>
  journalIn(desk).tables.entries.get(id(of))!.text;

/** Two desks, the second opened from a copy of the first. */
export async function apartFrom(from: Journal): Promise<[DeskOver, DeskOver]> {
  const [one, two] = [await opened(new MemoryStore()), await opened(new MemoryStore())];
  await take(one.desk, fileOf(from), 'replace');
  await take(two.desk, (await one.desk.copyOut()).bytes, 'replace');
  for (const { clock } of [one, two]) clock.now += 60_000;
  return [one.desk, two.desk];
}
export const apart = (...given: Parameters<typeof journalOf>): Promise<[DeskOver, DeskOver]> =>
  apartFrom(journalOf(...given));

/** The second takes a copy of the first, then the first one of the second. */
export async function swap(one: DeskOver, two: DeskOver): Promise<void> {
  await take(two, (await one.copyOut()).bytes, 'merge');
  await take(one, (await two.copyOut()).bytes, 'merge');
}
