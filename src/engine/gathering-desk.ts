/** What screens may ask of the bench of gathering: a part of the desk with a name of its own. */
import type { EntryId, GatheringId } from '../journal/records';
import type {
  BenchAsk,
  BenchStep,
  BenchTable,
  BenchView,
  BenchWhole,
  ColumnRole,
  FileHanded,
  GatheringLooked,
  GatheringSaid,
} from './bench-types';
import type { Done } from './desk';

export interface GatheringDesk {
  /** The gathering in hand; with `open`, what another window did at it is taken in first. */
  bench(ask: BenchAsk, open?: boolean): Promise<BenchView>;
  /** Does one thing at the bench. Undoable like any edit. */
  step(step: BenchStep): Promise<Done>;
  /** A piece, book or meeting whole, to be altered. */
  piece(id: string): Promise<BenchWhole | undefined>;
  /** Reads files onto the bench; without any, goes on with those that wait. Resolves when all are read, or stopped. */
  gather(files: FileHanded[]): Promise<Done>;
  stop(): Promise<void>;
  /** Lets go of the files that were not read. */
  forgetWaiting(): Promise<void>;
  /** The columns of a table, and what they were taken for. */
  columns(file: number): Promise<BenchTable | undefined>;
  tellColumns(file: number, columns: Record<string, ColumnRole>): Promise<Done>;
  /** All gatherings of the journal, the newest first. */
  all(): Promise<GatheringSaid[]>;
  lookAt(id: GatheringId): Promise<GatheringLooked | undefined>;
  /** Takes a gathering back whole, but for the entries to keep. */
  takeBack(id: GatheringId, keep: EntryId[]): Promise<Done>;
}
