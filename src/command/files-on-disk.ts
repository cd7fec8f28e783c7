/** Files and folders named on the command line, as files to be gathered: folders are walked, what is hidden is left. */
import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { basename, join, resolve, sep } from 'node:path';
import type { FileOffered } from '../engine/gathering';
import { Refusal } from './refusal';

/** Larger files are not loaded: no notebook is, and no reader would take it. */
const LARGEST_BYTES = 400 * 1024 * 1024;

/**
 * Every file under the paths given, in order of name, each once. A path inside the journal is the name of the folder
 * given and what follows; a file given by itself goes by its own name, and where another of that name is given, by as many
 * of its folders as tell the two apart. Links are followed, in no circle. Refuses a path that is not there. The file at
 * `except`, which is written to, is none of them.
 */
export async function filesUnder(
  paths: readonly string[],
  except?: string,
): Promise<FileOffered[]> {
  const found = new Map<string, FileOffered>();
  const names = namesApart(paths.map((path) => resolve(path)));
  for (const path of paths) {
    const at = resolve(path);
    const name = names.get(at) ?? basename(at);
    const is = await stat(at).catch(() => undefined);
    if (!is) throw new Refusal('no-file', `There is nothing at ${path}.`);
    if (is.isDirectory()) await walk(at, name, new Set(), found);
    else await offer(at, name, found);
  }
  if (except !== undefined) found.delete(await realpath(except).catch(() => except));
  return [...found.values()];
}

/** The ends of whole paths, parted by slashes: each as short as it can be and unlike every other. */
function namesApart(paths: readonly string[]): Map<string, string> {
  const whole = [...new Set(paths)].map((path) => ({ path, parts: path.split(sep) }));
  const names = new Map<string, string>();
  for (const { path, parts } of whole) {
    const endOf = (of: readonly string[], length: number): string => of.slice(-length).join('/');
    let length = 1;
    while (
      length < parts.length &&
      whole.some(
        (other) => other.path !== path && endOf(other.parts, length) === endOf(parts, length),
      )
    )
      length += 1;
    names.set(path, endOf(parts, length));
  }
  return names;
}

async function walk(
  folder: string,
  name: string,
  above: ReadonlySet<string>,
  found: Map<string, FileOffered>,
): Promise<void> {
  const real = await realpath(folder);
  if (above.has(real)) return;
  const within = new Set([...above, real]);
  const held = await readdir(folder).catch(() => undefined);
  if (!held) {
    const bytes = (): Promise<Uint8Array> =>
      Promise.reject(new Error('this folder may not be read by this user'));
    found.set(real, { path: name, bytes });
    return;
  }
  const names = held.filter((each) => !each.startsWith('.')).sort();
  for (const each of names) {
    const at = join(folder, each);
    const is = await stat(at).catch(() => undefined);
    if (is?.isDirectory()) await walk(at, `${name}/${each}`, within, found);
    else if (is?.isFile()) await offer(at, `${name}/${each}`, found);
    else if (!is) {
      const bytes = (): Promise<Uint8Array> =>
        Promise.reject(new Error('it leads to nothing, or may not be read by this user'));
      found.set(at, { path: `${name}/${each}`, bytes });
    }
  }
}

async function offer(at: string, path: string, found: Map<string, FileOffered>): Promise<void> {
  const real = await realpath(at);
  if (found.has(real)) return;
  const bytes = async (): Promise<Uint8Array> => {
    const { size } = await stat(real);
    if (size > LARGEST_BYTES)
      throw new Error(`it has ${Math.round(size / 1024 / 1024)} MB, more than any notebook`);
    return readFile(real);
  };
  found.set(real, { path, bytes });
}
