/** Blocks made even before they become pieces: numbers typed by hand are those of a list, and an answer under its question stands by itself. */
import type { Block } from './block';
import { plainOf } from './plain';

/** A number somebody typed: "3. ", "3) ", escaped as CommonMark where it would be a list. */
const TYPED_NUMBER = /^(?:Q\.? ?)?(\d{1,2})\\?[.)]\s+(?=\S)/u;

/** What opens an answer; kept to its own line. */
export const ANSWER =
  /^(?:(?:a|ans(?:wer)?|possible answers?|suggested answer|listen for|look for)\s*[:.–—]\s+)+(?=\S)/iu;

/** The same words in the same order, the typed numbers and the labels of answers left out. */
export function evened(blocks: readonly Block[]): Block[] {
  const numbers = blocks.map(numberOf);
  return blocks.flatMap((block, at) => {
    const number = numbers[at];
    // A number alone may open any sentence; two that follow each other are a list.
    const listed =
      number !== undefined && (numbers[at - 1] === number - 1 || numbers[at + 1] === number + 1);
    return withAnswer(listed ? asItem(block) : block);
  });
}

function numberOf(block: Block): number | undefined {
  if (block.as !== 'paragraph') return undefined;
  const number = TYPED_NUMBER.exec(block.text)?.[1];
  return number === undefined ? undefined : Number(number);
}

function asItem(block: Block): Block {
  const mark = TYPED_NUMBER.exec(block.text)?.[0].length ?? 0;
  const item: Block = {
    ...block,
    as: 'item',
    level: 1,
    ordered: true,
    text: block.text.slice(mark),
  };
  if (block.italics) {
    item.italics = block.italics.map(([from, to]) => [
      Math.max(from - mark, 0),
      Math.max(to - mark, 0),
    ]);
  }
  return item;
}

/** A question with "A. …" or "Listen for: …" on a later line of the same block, in two. */
function withAnswer(block: Block): Block[] {
  if ((block.as !== 'item' && block.as !== 'paragraph') || !block.text.includes('\n'))
    return [block];
  const lines = block.text.split('\n');
  const at = lines.findIndex((line, index) => index > 0 && ANSWER.test(plainOf(line).trimStart()));
  if (at < 1) return [block];
  const asked = lines.slice(0, at).join('\n').trimEnd();
  if (!asked.includes('?')) return [block];
  const answer = lines.slice(at).join('\n').trim();
  const question: Block = { ...block, text: asked };
  if (block.italics) question.italics = block.italics.filter(([, to]) => to <= asked.length);
  const { italics: _, ...rest } = block;
  return [question, { ...rest, as: 'paragraph', text: answer }];
}
