/** The handout for Word. It is made from the handout's own type, which has no field for what is the leader's. */
import { HeadingLevel, Paragraph, type Table } from 'docx';
import { isNamedGrid, linesFor } from '../handout-space';
import type { Activity, Handout } from '../model';
import { quoted } from '../quoted';
import { blocksOf, flatRuns, runsOf } from '../rich';
import type { Lines } from '../sheet';
import { care } from './leader';
import { heading, writingLines } from './pieces';
import { mm, styleId } from './styles';
import { runs, tableOf, textRun, words, type Writing } from './words';

type Piece = Paragraph | Table;

export function handoutPieces(handout: Handout, writing: Writing, lines: Lines): Piece[] {
  const toWrite = handout.activities.filter(({ space }) => space === 'lines');
  const onFront = handout.activities.filter(({ space }) => space !== 'lines');
  return [
    new Paragraph({ heading: HeadingLevel.TITLE, children: textRun(handout.title) }),
    ...(handout.subtitle
      ? [
          new Paragraph({
            style: styleId('Subtitle'),
            children: runs(runsOf(handout.subtitle), writing),
          }),
        ]
      : []),
    ...passages(handout, writing),
    ...questions(handout.questions, writing),
    ...onFront.flatMap((one) => activity(one, writing)),
    ...care(handout.cautions),
    ...(handout.works.list.length > 0 ? [heading(1, handout.works.head)] : []),
    ...handout.works.list.flatMap((work) => words(work, writing, { style: 'Task' })),
    ...toWrite.flatMap((one) => [
      ...activity(one, writing, { keepNext: true }),
      ...writingLines(linesFor(toWrite.length), 14.4, lines),
    ]),
    ...(handout.until.length > 0 ? [heading(1, 'Until we meet again')] : []),
    ...handout.until.flatMap((text) => words(text, writing, { style: 'Task' })),
  ];
}

function passages(handout: Handout, writing: Writing): Piece[] {
  return handout.passages.flatMap(({ text, cite, language }) => [
    ...words(quoted(text), writing, {
      style: 'Passage',
      ...(language ? { lang: language } : {}),
      ...(cite ? { options: { keepNext: true } } : {}),
    }),
    ...(cite
      ? [new Paragraph({ style: styleId('Source'), children: runs(runsOf(cite), writing) })]
      : []),
  ]);
}

/** A real numbered list, so that a question put in or taken out renumbers the rest. */
function questions(all: readonly string[], writing: Writing): Piece[] {
  if (all.length === 0) return [];
  writing.numbering.next();
  const numbering = writing.numbering.ordered(1, 0);
  return [
    heading(1, 'To talk about'),
    ...all.flatMap((text) => {
      const [first, ...rest] = blocksOf(text);
      const asked = first?.is === 'paragraph' ? first.runs : runsOf(text);
      const line = new Paragraph({
        style: styleId('Question'),
        ...(numbering ? { numbering } : {}),
        children: runs(asked, writing),
      });
      const more = first?.is === 'paragraph' ? rest : [];
      return [
        line,
        ...more.map(
          (block) =>
            new Paragraph({
              style: styleId('Question'),
              indent: { left: mm(8) },
              children: runs(flatRuns(block), writing),
            }),
        ),
      ];
    }),
  ];
}

function activity(one: Activity, writing: Writing, options: { keepNext?: boolean } = {}): Piece[] {
  if (one.space !== 'grid') {
    return [heading(1, one.title), ...words(one.text, writing, { style: 'Task', options })];
  }
  const rows = blocksOf(one.text);
  return [
    heading(1, one.title),
    ...rows.flatMap((block): Piece[] =>
      block.is === 'table'
        ? [
            tableOf(
              block,
              writing,
              { style: 'Task' },
              { rowHeight: block.rows.length > 2 ? 17 : 22.5, named: isNamedGrid(one.text) },
            ),
          ]
        : [new Paragraph({ style: styleId('Task'), children: runs(flatRuns(block), writing) })],
    ),
  ];
}
