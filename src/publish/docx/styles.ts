/** The named styles of a Word document: change one and everything set in it changes. Sizes as in the other printings. */
import type { IStylesOptions, IParagraphStyleOptions } from 'docx';
import type { Preset } from '../sheet';

/** Twentieths of a point in a millimetre, the unit of Word. */
const TWIPS_PER_MM = 1440 / 25.4;
export const mm = (length: number): number => Math.round(length * TWIPS_PER_MM);
/** Half points, the unit of Word's sizes of type. */
const half = (points: number): number => Math.round(points * 2);
const twips = (points: number): number => Math.round(points * 20);

/**
 * Faces most machines have, because a document to be edited must look the same on the next one. The
 * sizes of the presets follow the same guidance as the other printings (18 points and up for large
 * print; sans serif of 12 points and up, no italics and more spacing for dyslexia).
 */
interface Manner {
  serif: string;
  sans: string;
  italics: boolean;
  size: (points: number) => number;
  line: number;
  spacing: number;
}

const MANNERS: Record<Preset, Manner> = {
  usual: { serif: 'Georgia', sans: 'Arial', italics: true, size: (p) => p, line: 1.3, spacing: 0 },
  plain: { serif: 'Arial', sans: 'Arial', italics: true, size: (p) => p, line: 1.3, spacing: 0 },
  large: {
    serif: 'Georgia',
    sans: 'Arial',
    italics: true,
    size: (p) => Math.max(18, p * (p > 20 ? 1.2 : 1.4)),
    line: 1.3,
    spacing: 0,
  },
  dyslexia: {
    serif: 'Verdana',
    sans: 'Verdana',
    italics: false,
    size: (p) => Math.max(12, p),
    line: 1.5,
    spacing: 8,
  },
};

/** Whether a preset slants emphasis. */
export const slants = (preset: Preset): boolean => MANNERS[preset].italics;

interface Sort {
  name: string;
  face: 'serif' | 'sans';
  size: number;
  bold?: boolean;
  italic?: boolean;
  /** Points before and after. */
  before?: number;
  after?: number;
  /** Millimetres from the left. */
  indent?: number;
  keepNext?: boolean;
  keepLines?: boolean;
  colour?: string;
}

/** Styles of ours beside Word's own, by their ids. */
const SORTS = {
  Subtitle: { name: 'Subtitle', face: 'serif', size: 13.5, after: 4 },
  When: { name: 'When and where', face: 'serif', size: 11, after: 10, colour: '222222' },
  Aim: { name: 'Aim of a part', face: 'serif', size: 12, italic: true, after: 4, keepNext: true },
  Facts: {
    name: 'Time and kind',
    face: 'sans',
    size: 9.5,
    bold: true,
    before: 10,
    keepNext: true,
  },
  Prompt: { name: 'Prompt', face: 'serif', size: 13, before: 2, after: 2, keepLines: true },
  Cue: { name: 'Cue', face: 'sans', size: 10.5, before: 2, after: 2, indent: 6, keepLines: true },
  Passage: { name: 'Passage', face: 'serif', size: 15, before: 8, after: 4, indent: 6 },
  Source: { name: 'Source', face: 'serif', size: 10.5, after: 8, indent: 6 },
  Question: { name: 'Question', face: 'serif', size: 13, before: 6, after: 4, keepLines: true },
  Task: { name: 'Task', face: 'serif', size: 12.5, before: 4, after: 4 },
  Cell: { name: 'Cell', face: 'sans', size: 10.5 },
  Care: { name: 'Caution', face: 'sans', size: 10.5, before: 2, after: 2, keepLines: true },
  Writing: { name: 'Writing line', face: 'sans', size: 10 },
  Foot: { name: 'Foot of the page', face: 'sans', size: 9, colour: '333333' },
} as const satisfies Record<string, Sort>;

export type StyleId = keyof typeof SORTS;

export function stylesFor(preset: Preset): IStylesOptions {
  const manner = MANNERS[preset];
  const set = (sort: Sort): Pick<IParagraphStyleOptions, 'run' | 'paragraph'> => ({
    run: {
      font: manner[sort.face],
      size: half(sort.name === SORTS.Foot.name ? sort.size : manner.size(sort.size)),
      bold: sort.bold ?? false,
      italics: (sort.italic ?? false) && manner.italics,
      color: sort.colour ?? '000000',
      ...(manner.spacing ? { characterSpacing: manner.spacing } : {}),
    },
    paragraph: {
      spacing: {
        before: twips(sort.before ?? 0),
        after: twips(sort.after ?? 0),
        line: Math.round(240 * manner.line),
      },
      ...(sort.indent ? { indent: { left: mm(sort.indent) } } : {}),
      keepNext: sort.keepNext ?? false,
      keepLines: sort.keepLines ?? false,
    },
  });
  const heading = (size: number, before: number): ReturnType<typeof set> =>
    set({ name: '', face: 'serif', size, bold: false, before, after: 4, keepNext: true });
  return {
    default: {
      document: { run: { font: manner.serif, language: { value: 'en-GB' } } },
      title: heading(28, 0),
      heading1: heading(18, 16),
      heading2: heading(13, 12),
    },
    paragraphStyles: (Object.entries(SORTS) as [StyleId, Sort][]).map(([id, sort]) => ({
      id: `Bookweft${id}`,
      name: sort.name === 'Subtitle' ? 'Books of the guide' : sort.name,
      basedOn: 'Normal',
      quickFormat: true,
      ...set(sort),
    })),
  };
}

export const styleId = (id: StyleId): string => `Bookweft${id}`;
