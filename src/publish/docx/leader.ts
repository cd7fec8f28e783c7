/** The leader's copy for Word: a heading for each part, a line of facts over each prompt, cues under it. */
import { HeadingLevel, Paragraph, type ParagraphChild, type Table } from 'docx';
import { capital } from '../clock';
import { KIND_NAMES } from '../html-leader';
import { DEFERENCE } from '../lists';
import type { DocItem, DocPart, GuideDocument } from '../model';
import { quoted } from '../quoted';
import { blocksOf, runsOf } from '../rich';
import { boxed, heading, writingLines } from './pieces';
import { styleId, type StyleId } from './styles';
import { runs, tableOf, textRun, words, type Writing } from './words';
import { markOf } from '../item-words';

type Piece = Paragraph | Table;

export function leaderPieces(doc: GuideDocument, writing: Writing): Piece[] {
  const line = (style: StyleId, children: ParagraphChild[]): Paragraph =>
    new Paragraph({ style: styleId(style), children });
  const named = (name: string, text: string): Paragraph[] =>
    text ? [line('Cue', [...textRun(`${name} `, { bold: true }), ...textRun(text)])] : [];
  return [
    new Paragraph({ heading: HeadingLevel.TITLE, children: textRun(doc.title) }),
    ...(doc.subtitle ? [line('Subtitle', runs(runsOf(doc.subtitle), writing))] : []),
    ...(doc.when ? [line('When', textRun(doc.when))] : []),
    ...named('Have ready', doc.haveReady.join(', ')),
    ...named('If running late', doc.ifLate.join('; ')),
    ...named('Aim', doc.objective ?? ''),
    ...(doc.note?.trim() ? words(doc.note, writing, { style: 'Task' }) : []),
    ...care(doc.cautions.map(({ text }) => text)),
    ...doc.parts.flatMap((part) => partPieces(part, writing)),
    ...(doc.ending ? named(doc.ending.clock, doc.ending.text) : []),
    ...(doc.spare.length > 0 ? [heading(1, 'Spare, if there is time')] : []),
    ...doc.spare.flatMap((item) => itemPieces(item, writing)),
    heading(1, `Worth keeping from ${doc.evening ? 'tonight' : 'this meeting'}`),
    ...writingLines(6, 8.4, 'ruled'),
    heading(1, 'Minutes by level'),
    levelTable(doc, writing),
    ...(doc.sources.length > 0 ? [heading(1, doc.sourcesHead)] : []),
    ...doc.sources.map((source) => line('Task', runs(runsOf(source), writing))),
  ];
}

/** The usual cautions in a box, ending with whose word is the last. */
export function care(texts: readonly string[]): Paragraph[] {
  if (texts.length === 0) return [];
  return boxed([
    textRun('Take care', { bold: true }),
    ...texts.map((text) => textRun(text)),
    textRun(DEFERENCE, { bold: true }),
  ]);
}

function partPieces(part: DocPart, writing: Writing): Piece[] {
  return [
    heading(1, `${part.name}, ${part.from} to ${part.to}`),
    ...(part.aim
      ? [
          new Paragraph({
            style: styleId('Aim'),
            children: runs(runsOf(part.aim), writing),
          }),
        ]
      : []),
    ...part.items.flatMap((item) => itemPieces(item, writing)),
  ];
}

function itemPieces(item: DocItem, writing: Writing): Piece[] {
  const facts = [
    item.clock,
    KIND_NAMES[item.kind],
    `${item.minutes} min`,
    item.level && capital(item.level),
    markOf(item),
  ];
  const name = item.title?.trim();
  const text = item.kind === 'quote' ? quoted(item.text) : item.text;
  const cue = (lead: string, about: string): Piece[] =>
    words(about, writing, {
      style: 'Cue',
      before: lead ? textRun(`${lead} `, { bold: true }) : [],
    });
  const plainCue = (children: ParagraphChild[]): Paragraph =>
    new Paragraph({ style: styleId('Cue'), children });
  return [
    new Paragraph({
      style: styleId('Facts'),
      children: textRun(facts.filter(Boolean).join('   ')),
    }),
    ...(name
      ? [
          new Paragraph({
            style: styleId('Prompt'),
            keepNext: true,
            children: textRun(name, { bold: true }),
          }),
        ]
      : []),
    ...words(text, writing, { style: 'Prompt', ...(item.language ? { lang: item.language } : {}) }),
    ...item.cues.flatMap(({ lead, text: about }) => cue(lead, about)),
    ...(item.note
      ? [plainCue([...textRun('Last time ', { bold: true }), ...textRun(item.note)])]
      : []),
    ...(item.used ? [plainCue(textRun(item.used))] : []),
  ];
}

function levelTable(doc: GuideDocument, writing: Writing): Table {
  const [table] = blocksOf(
    [
      `| ${doc.levels.map(({ level }) => capital(level)).join(' | ')} |`,
      `|${doc.levels.map(() => ' --- ').join('|')}|`,
      `| ${doc.levels.map(({ minutes }) => minutes).join(' | ')} |`,
    ].join('\n'),
  );
  if (table?.is !== 'table') throw new Error('The minutes by level made no table.');
  return tableOf(table, writing, { style: 'Cell' });
}
