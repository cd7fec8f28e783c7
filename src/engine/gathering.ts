/** Gathering for app, command line and tests: reads files one after another, sorts them in slices that let the screen breathe. */
import { acceptable, acceptEdit, type AcceptLevel, type Accepted } from '../gather/accept';
import type { BlockPicture, Gathered } from '../gather/block';
import { gatherInSlices, type FileGathered, type GatheringMade } from '../gather/gathering';
import type { GatherPiece } from '../gather/piece';
import type { Gathering, GatheringId } from '../journal/records';
import type { Core } from './core';
import { readFile, type FileReader } from './file-reader';

export type { AcceptLevel, Accepted, FileReader, GatherPiece, GatheringMade };

/** A file still unread: its bytes are asked for when its turn comes, and let go after. */
export interface FileOffered {
  path: string;
  bytes: () => Uint8Array | Promise<Uint8Array>;
}

interface GatherProgress {
  stage: 'reading' | 'sorting' | 'comparing';
  /** The file in hand. */
  path: string;
  /** Files done and files in all, in this stage; while all are compared for twins, a share of them. */
  done: number;
  of: number;
  /** How much of the file in hand is sorted, 0 to 1. */
  part?: number;
}

export interface GatherResult extends GatheringMade {
  /** The record to be kept with the first accepted piece. */
  gathering: Gathering;
  /** Stopped before the last file: those not read are not in `files`. */
  stopped: boolean;
}

/** The longest stretch of work without a pause, in milliseconds: half a frame of a slow screen. */
const SLICE_MS = 12;

const pause = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/**
 * Reads files and makes pieces of them. Pauses by `breathe` after every file and every 12 ms of sorting. `signal` stops it: what was
 * read by then is sorted, and the rest can be gathered later, where files read already bring only twins. A file that fails fails alone.
 */
export async function gatherFiles(
  engine: Core,
  files: readonly FileOffered[],
  onProgress: (progress: GatherProgress) => void = () => undefined,
  signal?: AbortSignal,
  reader?: FileReader,
  breathe: () => Promise<void> = pause,
): Promise<GatherResult> {
  const read = reader ?? readFile;
  const gathered: FileGathered[] = [];
  const digests = new Map<Uint8Array, string>();
  let done = 0;
  for (const { path, bytes } of files) {
    if (signal?.aborted) break;
    onProgress({ stage: 'reading', path, done, of: files.length });
    const found = await readOne(path, bytes, read, signal);
    // Stopped half-way through a file is not having read it.
    if (found.some(({ result }) => !result.ok && result.code === 'stopped')) break;
    gathered.push(...found);
    for (const picture of found.flatMap(({ result }) => picturesOf(result))) {
      digests.set(picture.bytes, await sha256(picture.bytes));
    }
    done += 1;
    await breathe();
  }
  const made = await sortInSlices(engine, gathered, digests, onProgress, breathe);
  const gathering: Gathering = {
    id: engine.around.newId() as GatheringId,
    on: engine.nowIso(),
    files: made.files.map(({ path, digest, status, reason }) => ({
      path,
      digest,
      status,
      ...(reason ? { reason } : {}),
    })),
  };
  return { ...made, gathering, stopped: done < files.length };
}

async function sortInSlices(
  engine: Core,
  files: readonly FileGathered[],
  digests: ReadonlyMap<Uint8Array, string>,
  onProgress: (progress: GatherProgress) => void,
  breathe: () => Promise<void>,
): Promise<GatheringMade> {
  const steps = gatherInSlices(engine.journal, files, (bytes) => digests.get(bytes));
  let done = 0;
  let began = performance.now();
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done) return step.value;
    const { path, part, twins } = step.value;
    if (path !== undefined) {
      done += 1;
      onProgress({ stage: 'sorting', path, done, of: files.length });
    }
    if (performance.now() - began < SLICE_MS) continue;
    if (twins !== undefined)
      onProgress({ stage: 'comparing', path: '', done: twins * files.length, of: files.length });
    const inHand = files[done]?.path;
    if (part !== undefined && inHand !== undefined)
      onProgress({ stage: 'sorting', path: inHand, done, of: files.length, part });
    await breathe();
    began = performance.now();
  }
}

/** The pieces sure enough to be accepted in one go; near twins wait for the reader. */
export const acceptablePieces = acceptable;

/** The edit that keeps these pieces; to be applied by the engine like any other. */
export function acceptPieces(
  engine: Core,
  result: Pick<GatherResult, 'gathering'> & Partial<Pick<GatherResult, 'books' | 'meetings'>>,
  pieces: readonly GatherPiece[],
): Accepted {
  return acceptEdit(engine.journal, pieces, {
    newId: engine.around.newId,
    now: engine.nowIso(),
    gathering: result.gathering,
    books: result.books ?? [],
    meetings: result.meetings ?? [],
  });
}

async function readOne(
  path: string,
  bytes: FileOffered['bytes'],
  read: FileReader,
  signal: AbortSignal | undefined,
): Promise<FileGathered[]> {
  let digest = '';
  try {
    const whole = await bytes();
    digest = await sha256(whole);
    const files: FileGathered[] = [];
    for await (const { path: inside, result } of read({ path, bytes: whole }, signal)) {
      // A file inside a zip is known again by the zip's bytes and its own path there.
      const own =
        inside === path
          ? digest
          : await sha256(new TextEncoder().encode(`${digest} ${inside.slice(path.length)}`));
      files.push({ path: inside, digest: own, result });
    }
    return files;
  } catch (error) {
    const message = `This file could not be opened (${(error as Error).message}). Close it in other programs and try again.`;
    return [
      {
        path,
        digest: digest || (await sha256(new TextEncoder().encode(path))),
        result: { ok: false, code: 'failed', message },
      },
    ];
  }
}

const picturesOf = (result: Gathered): BlockPicture[] =>
  result.ok ? result.blocks.flatMap(({ picture }) => picture ?? []) : [];

async function sha256(bytes: Uint8Array): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
