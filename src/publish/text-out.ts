/** A guide as plain text, for a letter or a screen reader: the leader's copy, or the handout from its own type. */
import { capital } from './clock';
import { handoutOf } from './document';
import { isNamedGrid, linesFor } from './handout-space';
import { KIND_NAMES } from './html-leader';
import { DEFERENCE } from './lists';
import type { Activity, DocItem, DocPart, GuideDocument, Handout } from './model';
import { quoted } from './quoted';
import { blocksOf, type Block, type Run } from './rich';
import { clean } from './safe-text';
import { markOf } from './item-words';

/** Letters in a line. */
const WIDTH = 76;

/** The text, ending in one line feed. Marks of CommonMark are gone; links keep their address in brackets. */
export function toText(doc: GuideDocument, { copy }: { copy: 'leader' | 'handout' }): string {
  const lines = copy === 'leader' ? leaderLines(doc) : handoutLines(handoutOf(doc));
  const text = lines.join('\n').replace(/[ \t]+$/gm, '');
  return `${text.replace(/\n{3,}/g, '\n\n').trim()}\n`;
}

/** Words wrapped after `first`, further lines after as much white. */
function wrapped(text: string, first = '', rest = ' '.repeat([...first].length)): string[] {
  return clean(text)
    .split('\n')
    .flatMap((part, at) => {
      const lines: string[] = [];
      let line = at === 0 ? first : rest;
      let empty = true;
      for (const word of part.split(/[ \t]+/).filter(Boolean)) {
        if (!empty && [...line].length + 1 + [...word].length > WIDTH) {
          lines.push(line);
          line = rest;
          empty = true;
        }
        line += empty ? word : ` ${word}`;
        empty = false;
      }
      return [...lines, line];
    });
}

function said(runs: readonly Run[]): string {
  let text = '';
  runs.forEach((run, at) => {
    text += run.text;
    const ends = run.link && runs[at + 1]?.link !== run.link;
    if (ends && run.link !== run.text) text += ` (${run.link})`;
  });
  return text;
}

/** CommonMark in lines, each after `indent`; `first` stands before the first in its place. */
function words(commonMark: string, indent = '', first = indent): string[] {
  const lines: string[] = [];
  blocksOf(commonMark).forEach((block, at) => {
    if (at > 0) lines.push('');
    lines.push(...blockLines(block, indent, at === 0 ? first : indent));
  });
  return lines.length > 0 ? lines : first.trim() ? [first] : [];
}

function blockLines(block: Block, indent: string, first: string): string[] {
  switch (block.is) {
    case 'paragraph':
      return wrapped(said(block.runs), first, indent);
    case 'quote': {
      const inner = block.blocks.flatMap((one) => blockLines(one, `${indent}   `, `${indent}   `));
      return first === indent ? inner : [first.trimEnd(), ...inner];
    }
    case 'list': {
      const items = block.items.flatMap((blocks, at) => {
        const label = block.ordered ? `${block.start + at}. ` : '- ';
        const under = indent + ' '.repeat(label.length);
        return blocks.flatMap((one, n) =>
          blockLines(one, under, n === 0 ? `${indent}${label}` : under),
        );
      });
      return first === indent ? items : [first.trimEnd(), ...items];
    }
    case 'table': {
      const rows = [block.head, ...block.rows].map((row) => row.map(said));
      const text = rows.map((row) => `${indent}${row.map((cell) => cell || '…').join(' | ')}`);
      return first === indent ? text : [first.trimEnd(), ...text];
    }
    case 'rule':
      return [`${indent}* * *`];
  }
}

const headed = (name: string): string[] => ['', name, '-'.repeat([...name].length)];

function leaderLines(doc: GuideDocument): string[] {
  const levels = doc.levels.map(({ level, minutes }) => `${capital(level)} ${minutes}`).join(', ');
  return [
    ...titleLines(doc.title, doc.subtitle),
    ...(doc.circle ? wrapped(doc.circle) : []),
    ...(doc.when ? wrapped(doc.when) : []),
    '',
    ...(doc.objective ? wrapped(`Aim: ${doc.objective}`) : []),
    ...(doc.note ? words(doc.note) : []),
    ...(doc.haveReady.length > 0 ? wrapped(`Have ready: ${doc.haveReady.join(', ')}`) : []),
    ...(doc.ifLate.length > 0 ? wrapped(`If running late: ${doc.ifLate.join('; ')}`) : []),
    ...careLines(doc.cautions.map(({ text }) => text)),
    ...doc.parts.flatMap(partLines),
    ...(doc.ending ? ['', ...wrapped(doc.ending.text, doc.ending.clock.padEnd(7))] : []),
    ...(doc.spare.length > 0 ? headed('Spare, if there is time') : []),
    ...doc.spare.flatMap(itemLines),
    ...headed('Minutes by level'),
    ...wrapped(levels),
    ...(doc.sources.length > 0 ? headed(doc.sourcesHead) : []),
    ...doc.sources.flatMap((source) => words(source, '  ', '- ')),
  ];
}

function titleLines(title: string, subtitle: string | undefined): string[] {
  const lines = wrapped(title.toLocaleUpperCase('en-GB'));
  return subtitle ? [...lines, ...words(subtitle)] : lines;
}

function partLines(part: DocPart): string[] {
  return [
    ...headed(`${part.name}, ${part.from} to ${part.to}`),
    ...(part.aim ? words(part.aim) : []),
    ...part.items.flatMap(itemLines),
  ];
}

function itemLines(item: DocItem): string[] {
  const facts = [
    KIND_NAMES[item.kind],
    `${item.minutes} min`,
    item.level && capital(item.level),
    markOf(item),
  ];
  const indent = '       ';
  const name = item.title?.trim();
  const text = item.kind === 'quote' ? quoted(item.text) : item.text;
  const cue = (lead: string, about: string): string[] =>
    words(about, `${indent}  `, `${indent}${lead ? `${lead}: ` : ''}`);
  return [
    '',
    `${(item.clock ?? '').padEnd(6)} ${facts.filter(Boolean).join(', ')}`,
    ...(name ? wrapped(name, indent) : []),
    ...words(text, indent),
    ...item.cues.flatMap(({ lead, text: about }) => cue(lead, about)),
    ...(item.note ? wrapped(`Last time: ${item.note}`, indent) : []),
    ...(item.used ? wrapped(item.used, indent) : []),
  ];
}

function careLines(texts: readonly string[]): string[] {
  if (texts.length === 0) return [];
  return [...headed('Take care'), ...[...texts, DEFERENCE].flatMap((text) => wrapped(text, '- '))];
}

function handoutLines(handout: Handout): string[] {
  const day = [handout.circle, handout.day].filter(Boolean).join(', ');
  const toWrite = handout.activities.filter(({ space }) => space === 'lines').length;
  return [
    ...titleLines(handout.title, handout.subtitle),
    ...(day ? wrapped(day) : []),
    ...handout.passages.flatMap(({ text, cite }) => [
      '',
      ...words(quoted(text), '   '),
      ...(cite ? words(cite, '      ') : []),
    ]),
    ...(handout.questions.length > 0 ? headed('To talk about') : []),
    ...handout.questions.flatMap((text, at) => {
      const label = `${at + 1}. `;
      return words(text, ' '.repeat(label.length), label);
    }),
    ...careLines(handout.cautions),
    ...handout.activities.flatMap((one) => activityLines(one, linesFor(toWrite))),
    ...(handout.until.length > 0 ? headed('Until we meet again') : []),
    ...handout.until.flatMap((text) => ['', ...words(text)]),
    ...(handout.works.list.length > 0 ? headed(handout.works.head) : []),
    ...handout.works.list.flatMap((work) => words(work, '  ', '- ')),
  ];
}

/** A grid is given row by row with room after each head, as columns do not hold in plain text. */
function activityLines(one: Activity, lines: number): string[] {
  const room = one.space === 'lines' ? Array.from({ length: lines }, () => '_'.repeat(60)) : [];
  const inside = blocksOf(one.text).flatMap((block) =>
    one.space === 'grid' && block.is === 'table'
      ? gridLines(block, isNamedGrid(one.text))
      : ['', ...blockLines(block, '', '')],
  );
  return [...headed(one.title), ...inside, ...room.flatMap((line) => ['', line])];
}

function gridLines(table: Extract<Block, { is: 'table' }>, named: boolean): string[] {
  const heads = table.head.map(said);
  return table.rows.flatMap((cells) => [
    '',
    ...(named ? wrapped(said(cells[0] ?? [])) : []),
    ...heads.slice(named ? 1 : 0).flatMap((head, at) => {
      const cell = said(cells[at + (named ? 1 : 0)] ?? []);
      return wrapped(cell || '_'.repeat(40), `  ${head ? `${head}: ` : ''}`);
    }),
  ]);
}
