/** The kind of a piece: the signs in its words, and what its place in the file says. */
import type { EntryKind } from '../journal/records';
import type { Certainty } from '../language/certainty';
import { isHouseholdList, kindPoints, labelledKind, settleKind, trustIn } from '../language/kinds';
import { fold } from '../language/tokens';
import type { Block } from './block';

/** What a heading says that the pieces under it are. */
const SECTIONS: readonly [EntryKind, RegExp][] = [
  [
    'question',
    /^(?:\p{L}+ ){0,3}(?:questions?|prompts?)(?: (?:for|to|on|about|and answers).*)?$|^(?:things |what )?to (?:ask|talk about|discuss)$|^(?:for )?discussion$|^d\.? ?q\.?s?$|^q(?:uestion)?s?$/u,
  ],
  [
    'quote',
    /^(?:\p{L}+ ){0,3}(?:quotes?|quotations?|passages?|extracts?|epigraphs?|lines|copied out|commonplaces)(?: (?:from|to|worth|i|we|for|about|on).*)?$/u,
  ],
  [
    'lesson',
    /^(?:\p{L}+ ){0,2}(?:lesson(?: ideas?| plans?|s)?|object lessons?|activit(?:y|ies)|hands-?on|things to (?:do|make|try)|games?|crafts?|experiments?|projects? to do|ideas for (?:lessons?|teaching|the class))(?: (?:for|on|from|about|with).*)?$/u,
  ],
  [
    'assignment',
    /^(?:\p{L}+ ){0,2}(?:assignments?|homework|set work|copywork|narrations?|to hand in|essays?|for next (?:week|time|lesson|term))(?: (?:for|on|from|due|about).*)?$/u,
  ],
  [
    'note',
    /^(?:\p{L}+ ){0,2}(?:notes?|thoughts?|remarks?|diary|journal|impressions?|reactions?|what we thought|log)(?: (?:on|from|about|for|while).*)?$/u,
  ],
];

/** The kind of what stands under this heading, where the heading names one. */
export function sectionOf(heading: string): EntryKind | undefined {
  const key = fold(heading)
    .replace(/[:.–—-]+\s*$/u, '')
    .replace(/[^\p{L}\d' .-]+/gu, ' ')
    .replace(/\s+/gu, ' ')
    .trim();
  if (key.length > 60) return undefined;
  return SECTIONS.find(([, pattern]) => pattern.test(key))?.[0];
}

interface KindSigns {
  /** CommonMark. */
  text: string;
  as: Block['as'];
  /** The kind named by the nearest heading that names one. */
  section?: EntryKind;
  /** The kind named by the column of a table the text stands in. */
  column?: EntryKind;
  /** Of the other pieces of the same list, the part that is of each kind by its own signs. */
  fellows?: Partial<Record<EntryKind, number>>;
  /** It stands in an e-book: somebody else's words, which nobody has asked for yet. */
  passage?: boolean;
}

/** Points a heading's word counts for: more than most signs, less than a label or quotation marks with a name. */
const SECTION_POINTS = 4;

/**
 * The kind of a piece and how sure that is. A column named for a kind settles it; a section named for one speaks strongly, and
 * fellows in a list a little.
 */
export function kindOf(signs: KindSigns): { kind: EntryKind; certainty: Certainty } {
  if (signs.column) return { kind: signs.column, certainty: 'sure' };
  // Nobody gathers a journal for what was to be bought; somebody may want it all the same.
  if (isHouseholdList(signs.text)) return { kind: 'note', certainty: 'guess' };
  const points = kindPoints(signs.text);
  if (signs.as === 'quote') points.quote += 4.5;
  if (signs.as === 'picture') points.note += 1;
  const { section, fellows = {} } = signs;
  const label = section && labelledKind(signs.text);
  // A label of its own says more of a piece than the heading over it.
  if (label && label !== section) points[section] += 1;
  else if (section) {
    points[section] += SECTION_POINTS;
    // Under a heading of quotations even a question is quoted, and an order is somebody's.
    if (section === 'quote') {
      points.note *= 0.5;
      points.question *= 0.4;
      points.lesson *= 0.4;
      points.assignment *= 0.5;
    }
    if (section === 'assignment') {
      points.lesson *= 0.4;
      points.question *= 0.6;
    }
    if (section === 'lesson') points.assignment *= 0.5;
    if (section === 'note') points.question *= 0.6;
  }
  for (const [kind, share] of Object.entries(fellows) as [EntryKind, number][]) {
    if (share >= 0.6) points[kind] += 1;
  }
  if (signs.passage) {
    const { kind, certainty } = settleKind(points, trustIn(signs.text));
    return {
      kind: 'quote',
      certainty: signs.as === 'quote' && kind === 'quote' ? certainty : 'guess',
    };
  }
  return settleKind(points, section ? 1 : trustIn(signs.text));
}
