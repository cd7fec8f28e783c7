/** The words of both copies in reading order, told from the model alone, to hold printings against. */
import { plainText } from '../../../src/language/markdown';
import { capital } from '../../../src/publish/clock';
import { handoutOf, type DocItem, type GuideDocument } from '../../../src/publish/document';
import { KIND_NAMES } from '../../../src/publish/html-leader';
import { quoted } from '../../../src/publish/quoted';

/** Only letters, figures and signs in their order; spaces and hyphens depend on where lines end. */
export const bare = (text: string): string => text.normalize('NFC').replace(/[\s\u00AD‐-]+/gu, '');

function itemWords(item: DocItem): string[] {
  return [
    item.clock ?? '',
    item.title ?? '',
    plainText(item.kind === 'quote' ? quoted(item.text) : item.text),
    ...item.cues.map(({ lead, text }) => `${lead} ${plainText(text)}`),
    item.note ? `Last time ${item.note}` : '',
    item.used ?? '',
    `${item.minutes} min`,
    item.clock === undefined || !item.level ? '' : capital(item.level),
    item.must && item.clock !== undefined ? 'must stay' : '',
  ];
}

export function leaderWords(doc: GuideDocument): string {
  const kinds = Object.entries(KIND_NAMES).filter(
    ([kind]) =>
      kind !== 'free' ||
      [...doc.parts.flatMap(({ items }) => items), ...doc.spare].some((one) => one.kind === kind),
  );
  return [
    doc.title,
    plainText(doc.subtitle ?? ''),
    doc.when ?? '',
    doc.haveReady.length > 0 ? `Have ready ${doc.haveReady.join(', ')}` : '',
    doc.ifLate.length > 0 ? `If running late ${doc.ifLate.join('; ')}` : '',
    doc.objective ? `Aim ${doc.objective}` : '',
    plainText(doc.note ?? ''),
    ...(doc.cautions.length > 0 ? ['Take care', ...doc.cautions.map(({ text }) => text)] : []),
    doc.cautions.length > 0
      ? 'Follow your local rules and the judgement of a responsible adult.'
      : '',
    ...doc.parts.flatMap((part) => [
      part.name,
      plainText(part.aim ?? ''),
      `${part.from} to ${part.to}`,
      ...part.items.flatMap(itemWords),
    ]),
    doc.ending ? `${doc.ending.clock} ${doc.ending.text}` : '',
    ...(doc.spare.length > 0 ? ['Spare, if there is time', ...doc.spare.flatMap(itemWords)] : []),
    `Worth keeping from ${doc.evening ? 'tonight' : 'this meeting'}`,
    'Minutes by level',
    ...doc.levels.map(({ level, minutes }) => `${capital(level)} ${minutes}`),
    ...kinds.map(([, name]) => name),
    'level, first to sixth',
    doc.sources.length > 0 && doc.sourcesHead === 'Sources'
      ? `Sources: ${doc.sources.map(plainText).join('; ')}.`
      : [doc.sourcesHead, ...doc.sources.map(plainText)].join('\n'),
  ].join('\n');
}

export function handoutWords(doc: GuideDocument): string {
  const handout = handoutOf(doc);
  const [toWrite, onFront] = [
    handout.activities.filter(({ space }) => space === 'lines'),
    handout.activities.filter(({ space }) => space !== 'lines'),
  ];
  const activity = ({ title, text }: { title: string; text: string }): string[] => [
    title,
    plainText(text.replace(/^\|?[\s:|-]+\|?$/gm, '').replace(/\|/g, ' ')),
  ];
  return [
    handout.title,
    plainText(handout.subtitle ?? ''),
    ...handout.passages.flatMap(({ text, cite }) => [
      plainText(quoted(text)),
      plainText(cite ?? ''),
    ]),
    ...(handout.questions.length > 0 ? ['To talk about'] : []),
    ...handout.questions.map((text, at) => `${at + 1} ${plainText(text)}`),
    ...onFront.flatMap(activity),
    ...(handout.cautions.length > 0
      ? [
          'Take care',
          ...handout.cautions,
          'Follow your local rules and the judgement of a responsible adult.',
        ]
      : []),
    ...(handout.works.list.length > 0
      ? [handout.works.head, ...handout.works.list.map(plainText)]
      : []),
    ...toWrite.flatMap(activity),
    ...(handout.until.length > 0 ? ['Until we meet again', ...handout.until.map(plainText)] : []),
  ].join('\n');
}
