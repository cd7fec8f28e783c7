/** Paragraphs both copies have: headings, boxed cautions, lines to write on, the foot. */
import {
  BorderStyle,
  Footer,
  HeadingLevel,
  LineRuleType,
  PageNumber,
  Paragraph,
  TabStopType,
  TextRun,
  type ParagraphChild,
} from 'docx';
import type { Lines } from '../sheet';
import { mm, styleId } from './styles';
import { textRun } from './words';

export function heading(level: 1 | 2, text: string): Paragraph {
  return new Paragraph({
    heading: level === 1 ? HeadingLevel.HEADING_1 : HeadingLevel.HEADING_2,
    children: textRun(text),
  });
}

/** Paragraphs with one frame round them all. */
export function boxed(all: readonly ParagraphChild[][]): Paragraph[] {
  const side = { style: BorderStyle.SINGLE, size: 6, color: '000000', space: 6 };
  return all.map(
    (children, at) =>
      new Paragraph({
        style: styleId('Care'),
        keepNext: at < all.length - 1,
        ...(at === 0 ? { spacing: { before: 240 } } : {}),
        border: { top: side, bottom: side, left: side, right: side },
        children,
      }),
  );
}

/** Lines to write on, so many millimetres apart, all on one page. */
export function writingLines(count: number, step: number, lines: Lines): Paragraph[] {
  const style = { ruled: BorderStyle.SINGLE, dotted: BorderStyle.DOTTED, plain: undefined }[lines];
  const line = style && { style, size: 4, color: '555555', space: 0 };
  return Array.from(
    { length: count },
    (_, at) =>
      new Paragraph({
        style: styleId('Writing'),
        keepNext: at < count - 1,
        spacing: { before: 0, after: 0, line: mm(step), lineRule: LineRuleType.EXACT },
        ...(line ? { border: { bottom: line, between: line } } : {}),
      }),
  );
}

/** The foot: left, the page and how many there are where asked for, right. `width` in twentieths of a point. */
export function foot(left: string, middle: boolean, right: string, width: number): Footer {
  const pages = [
    new TextRun({ children: ['\t', PageNumber.CURRENT, ' of ', PageNumber.TOTAL_PAGES] }),
  ];
  return new Footer({
    children: [
      new Paragraph({
        style: styleId('Foot'),
        tabStops: [
          { type: TabStopType.CENTER, position: Math.round(width / 2) },
          { type: TabStopType.RIGHT, position: width },
        ],
        children: [
          ...textRun(left),
          ...(middle ? pages : [new TextRun({ children: ['\t'] })]),
          new TextRun({ children: ['\t'] }),
          ...textRun(right),
        ],
      }),
    ],
  });
}
