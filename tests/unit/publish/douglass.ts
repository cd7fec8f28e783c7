/** A discussion guide on two readers who taught themselves, for the tests of printing. */
import type {
  Circle,
  Entry,
  EntryId,
  Guide,
  GuideItem,
  Heading,
  HeadingId,
  Tie,
} from '../../../src/journal/records';
import type { GuideInput } from '../../../src/publish/document';

const headingId = (id: string): HeadingId => id as HeadingId;
const entryId = (id: string): EntryId => id as EntryId;

const headings: Heading[] = [
  {
    id: headingId('p-douglass'),
    kind: 'person',
    name: 'Frederick Douglass',
    alternates: [],
    roles: ['author'],
  },
  {
    id: headingId('p-shelley'),
    kind: 'person',
    name: 'Mary Shelley',
    alternates: [],
    roles: ['author'],
  },
  {
    id: headingId('p-creature'),
    kind: 'person',
    name: 'The Creature',
    alternates: [],
    roles: ['character'],
  },
  {
    id: headingId('b-narrative'),
    kind: 'book',
    name: 'Narrative of the Life',
    alternates: [],
    authors: [headingId('p-douglass')],
    published: '1845',
    language: 'en',
  },
  {
    id: headingId('b-frankenstein'),
    kind: 'book',
    name: 'Frankenstein',
    alternates: [],
    authors: [headingId('p-shelley')],
    published: '1818',
    language: 'en',
  },
];

const tie = (id: string, role: Tie['role'], chapter?: string): Tie => ({
  heading: headingId(id),
  role,
  by: 'reader',
  ...(chapter ? { place: { chapter } } : {}),
});

const entry = (
  id: string,
  kind: Entry['kind'],
  text: string,
  more: Partial<Entry> = {},
): Entry => ({
  id: entryId(id),
  kind,
  text,
  ties: [],
  added: '2025-01-01T00:00:00Z',
  changed: '2025-01-01T00:00:00Z',
  ...more,
});

const entries: Entry[] = [
  entry(
    'e-first',
    'lesson',
    'Before we speak: write down the first thing you remember reading by yourself. Two people read theirs aloud.',
    { level: 'remember', materials: ['slips and pencils'] },
  ),
  entry('e-who', 'question', 'Who taught you, and did they know they were teaching you?', {
    level: 'understand',
    answer: 'teachers who were not teachers: shop signs, hymn books, an older cousin.',
  }),
  entry(
    'e-moment',
    'quote',
    'From that moment, I understood the pathway from slavery to freedom. It was just what I wanted, and I got it at a time when I the least expected it.',
    { level: 'analyse', ties: [tie('b-narrative', 'from', '6')] },
  ),
  entry(
    'e-warning',
    'question',
    'Mr Auld means his speech as a warning. How does Douglass turn it into a lesson?',
    {
      level: 'analyse',
      answer: 'the warning names the thing feared, so it tells Douglass what reading is worth.',
      probes: ['Who did Mr Auld think was listening?'],
    },
  ),
  entry(
    'e-crack',
    'note',
    'The crack in the cottage wall: Felix teaches Safie, and the Creature learns unseen.',
    { level: 'understand', ties: [tie('b-frankenstein', 'about', '13')] },
  ),
  entry(
    'e-teacher',
    'question',
    'Who is the Creature’s teacher, if the teacher never knows he is there?',
    {
      level: 'evaluate',
      answer: 'a split: some will say Felix, some the book, some nobody. Let it stand.',
    },
  ),
  entry(
    'e-lichen',
    'quote',
    'Of what a strange nature is knowledge! It clings to the mind, when it has once seized on it, like a lichen on the rock.',
    { level: 'understand', ties: [tie('p-creature', 'by'), tie('b-frankenstein', 'from', '13')] },
  ),
  entry(
    'e-columns',
    'lesson',
    'Two columns: what learning gave each of them, and what it cost. In pairs for five minutes, then all together.\n\n|  | What learning gave | What it cost |\n| --- | --- | --- |\n| Douglass | | |\n| The Creature | | |',
    { title: 'Gift and price', level: 'analyse' },
  ),
  entry(
    'e-ten',
    'assignment',
    'To someone who taught you without knowing it. You need not show it to anyone.',
    { title: 'Ten lines', level: 'create', materials: ['Slips and pencils', 'writing paper'] },
  ),
  entry('e-teach', 'question', 'What will you teach someone this week, and how will you begin?', {
    level: 'apply',
  }),
];

const item = (id: string, minutes: number, more: Partial<GuideItem> = {}): GuideItem => ({
  entry: entryId(id),
  minutes,
  must: false,
  ...more,
});

const guide: Guide = {
  id: 'g-1' as Guide['id'],
  title: 'Who is allowed to learn?',
  shape: 'discussion',
  focus: {
    words: [],
    entries: [],
    headings: [
      { heading: headingId('b-narrative'), from: '6', to: '7' },
      { heading: headingId('b-frankenstein'), from: '11', to: '15' },
    ],
  },
  minutes: 90,
  starts: '2025-11-13T19:00',
  parts: [
    {
      name: 'Opening',
      minutes: 11,
      aim: 'Settle, and bring each person’s own first reading into the room.',
      items: [
        item('e-first', 6, { must: true }),
        item('e-who', 5, { cue: 'Come back to them at 7.39.' }),
      ],
    },
    {
      name: 'Close reading',
      minutes: 38,
      aim: 'Two people learn what others would rather they did not.',
      items: [
        item('e-moment', 10, {
          must: true,
          cue: 'Read aloud from the first lesson to the end of the chapter. Change readers at the ban.',
        }),
        item('e-warning', 10),
        item('e-crack', 8, {
          cue: 'Tell the story of *Frankenstein*, chapters 11 to 13, in your own words; not everyone will have reached it.',
        }),
        item('e-teacher', 10),
      ],
    },
    {
      name: 'Connections',
      minutes: 23,
      aim: 'Weigh the gift against the price.',
      items: [
        item('e-lichen', 5),
        item('e-columns', 18, {
          cue: 'Board rule two columns, two rows. Handouts have the same grid.',
        }),
      ],
    },
    {
      name: 'Closing',
      minutes: 18,
      aim: 'Leave with one thing to do.',
      items: [
        item('e-ten', 10, {
          must: true,
          cue: 'Quiet all ten minutes. Nobody need read theirs out.',
        }),
        item('e-teach', 8, { cue: 'Leave this out if the clock has passed 8.24.' }),
      ],
    },
  ],
  made: '2025-11-01T00:00:00Z',
};

const circle: Circle = { id: 'c-1' as Circle['id'], name: 'Harbour Lane Reading Circle', size: 11 };

/** Fresh at each call, so that a test may change what it likes. */
export function douglass(): GuideInput {
  return structuredClone({
    guide,
    circle,
    entries: new Map(entries.map((one) => [one.id as string, one])),
    headings: new Map(headings.map((one) => [one.id as string, one])),
    cautions: {
      heat: {
        name: 'Heat',
        caution: 'Keep flames and hot water away from sleeves, hair and paper.',
      },
    },
    used: new Map([['e-warning', 'Asked of this circle 14 Mar 2024; put it differently.']]),
    late: ['e-teach', 'e-crack'],
    untilNext: [
      'Read *The Secret Garden*, chapters 9 to 12. Watch for who learns from whom, and who would be surprised to hear it called a lesson.',
      'If you like, go on with *Frankenstein* to the end of chapter 16.',
    ],
  });
}
