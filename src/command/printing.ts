/** How a guide is to be printed, from the words of a command; and the typefaces it is printed with. */
import { readFile, stat } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import type { PublishHow } from '../engine/desk';
import { printFaces } from '../engine/faces';
import type { Faces } from '../engine/publishing';
import type { Asked, Options } from './asked';
import { Refusal } from './refusal';

export const FORMATS: Readonly<Record<string, PublishHow['format']>> = {
  html: 'html',
  pdf: 'pdf',
  docx: 'docx',
  md: 'markdown',
  txt: 'text',
};

/** The options of printing, to be listed among a command's own. */
export const PRINTING: Options = {
  copy: 'text',
  paper: 'text',
  preset: 'text',
  lines: 'text',
  cite: 'text',
};

const CHOICES = {
  copy: ['leader', 'handout'],
  paper: ['A4', 'Letter'],
  preset: ['usual', 'large', 'dyslexia', 'plain'],
  lines: ['ruled', 'dotted', 'plain'],
  cite: ['plain', 'mla', 'apa'],
} as const;

function chosen<Name extends keyof typeof CHOICES>(
  ask: Asked,
  name: Name,
): (typeof CHOICES)[Name][number] {
  const choices: readonly (typeof CHOICES)[Name][number][] = CHOICES[name];
  const text = ask.one(name);
  const found =
    text === undefined
      ? choices[0]
      : choices.find((choice) => choice.toLowerCase() === text.toLowerCase());
  if (found !== undefined) return found;
  throw new Refusal('wrong-use', `--${name} takes ${choices.join(', ')}, not “${text}”.`);
}

/** Everything about a printing but its format; an unknown choice is refused by name. */
export function printingAsked(ask: Asked): Omit<PublishHow, 'format'> {
  return {
    copy: chosen(ask, 'copy'),
    paper: chosen(ask, 'paper'),
    preset: chosen(ask, 'preset'),
    lines: chosen(ask, 'lines'),
    cite: chosen(ask, 'cite'),
  };
}

/** Where a file is to be written; refused where that is the journal itself, which it would replace. */
export async function outAsked(ask: Asked): Promise<string | undefined> {
  const out = ask.one('out');
  if (out !== undefined && (await isSameFile(out, ask.path)))
    throw new Refusal('wrong-use', `${out} is the journal itself; name another file.`);
  return out;
}

/** By what is on the disk, so that neither a link nor a name in other letters hides it. */
async function isSameFile(one: string, other: string): Promise<boolean> {
  if (resolve(one) === resolve(other)) return true;
  const [a, b] = await Promise.all([one, other].map((path) => stat(path).catch(() => undefined)));
  return a !== undefined && b !== undefined && a.ino === b.ino && a.dev === b.dev;
}

/** What stands after the last dot of a file's name, in small letters. */
export const endingOf = (name: string): string =>
  /\.([^./\\]+)$/.exec(name)?.[1]?.toLowerCase() ?? '';

/** The typefaces from the installed packages; a printing without them falls back to the reader's own. */
export const facesFromPackages: Faces = async (which) => {
  const require = createRequire(import.meta.url);
  return printFaces(async (path) => {
    const bytes = await Promise.resolve()
      .then(() => readFile(require.resolve(path)))
      .catch(() => undefined);
    return bytes?.toString('base64');
  }, which);
};
