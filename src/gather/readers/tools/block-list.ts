import type { Block, BlockPicture, BlockPlace } from '../../block';
import { MOST_BLOCKS } from './limits';
import { proseOf, type Prose, type Run } from './safe-text';
import { Unreadable } from './watch';

/** Items longer than this are no headings of what hangs from them. */
const LONGEST_PARENT = 200;

interface Above {
  level: number;
  text: string;
}

/**
 * Collects the blocks of one file in order and knows what stands above each: the headings that are open, and in an outline the items
 * it hangs from. What holds no words is left out.
 */
export class BlockList {
  readonly blocks: Block[] = [];
  readonly notes: string[] = [];
  #headings: Above[] = [];
  #parents: string[] = [];

  /** `level` is 1 to 6; `title` makes it the heading of the whole file. */
  heading(prose: Prose, level: number, place?: BlockPlace, title = false): Block | undefined {
    if (prose.plain.trim() === '') return undefined;
    const depth = title ? 0 : Math.min(Math.max(Math.round(level), 1), 6);
    this.endHeading(depth);
    const block = this.#add(
      { as: title ? 'title' : 'heading', text: '', place: {}, level: depth },
      prose,
      place,
    );
    if (block) this.#headings.push({ level: depth, text: oneLine(prose.plain) });
    return block;
  }

  /** What follows no longer stands under headings of this level or deeper. */
  endHeading(level: number): void {
    while ((this.#headings.at(-1)?.level ?? -1) >= level) this.#headings.pop();
  }

  paragraph(prose: Prose, place?: BlockPlace): Block | undefined {
    return this.#add({ as: 'paragraph', text: '', place: {} }, prose, place);
  }

  quote(prose: Prose, place?: BlockPlace): Block | undefined {
    return this.#add({ as: 'quote', text: '', place: {} }, prose, place);
  }

  /** `depth` counts from 1. */
  item(prose: Prose, depth: number, ordered: boolean, place?: BlockPlace): Block | undefined {
    const block: Block = { as: 'item', text: '', place: {}, level: Math.max(depth, 1) };
    if (ordered) block.ordered = true;
    return this.#add(block, prose, place);
  }

  /** `cells` by column name, empty ones left out by the caller or not. */
  row(cells: Readonly<Record<string, string>>, place: BlockPlace): Block | undefined {
    const filled = Object.entries(cells).filter(([, cell]) => cell.trim() !== '');
    const prose = proseOf([{ text: filled.map(([, cell]) => cell).join(' · ') }]);
    return this.#add(
      { as: 'row', text: '', place: {}, cells: Object.fromEntries(filled) },
      prose,
      place,
    );
  }

  picture(picture: BlockPicture, place?: BlockPlace): Block {
    const { text } = proseOf([{ text: picture.alt }]);
    const block: Block = { as: 'picture', text, place: {}, picture };
    this.#finish(block, place);
    return block;
  }

  /** Adds a paragraph to the block just made. */
  extend(block: Block, prose: Prose): void {
    if (prose.text === '') return;
    const shift = block.text.length + 2;
    block.text = `${block.text}\n\n${prose.text}`;
    if (prose.italics.length === 0) return;
    const moved = prose.italics.map(([from, to]): [number, number] => [from + shift, to + shift]);
    block.italics = [...(block.italics ?? []), ...moved];
  }

  /** What follows hangs from an item of this text, until `closeParent`. Every `openParent` needs its `closeParent`. */
  openParent(plain: string): void {
    this.#parents.push(plain.length > LONGEST_PARENT ? '' : oneLine(plain));
  }

  closeParent(): void {
    this.#parents.pop();
  }

  note(sentence: string): void {
    if (!this.notes.includes(sentence)) this.notes.push(sentence);
  }

  /**
   * The plain text of the file's own heading. Where none was marked as such, a heading that opens the file and has no equal in it
   * becomes one.
   */
  settleTitle(): string | undefined {
    const own = this.blocks.find((block) => block.as === 'title');
    if (own) return plainOfTitle.get(own);
    const first = this.blocks[0];
    if (first?.as !== 'heading') return undefined;
    const level = first.level ?? 1;
    const rivals = this.blocks.filter(
      (block) => block !== first && block.as === 'heading' && (block.level ?? 1) <= level,
    );
    if (rivals.length > 0) return undefined;
    first.as = 'title';
    first.level = 0;
    return plainOfTitle.get(first);
  }

  #add(block: Block, prose: Prose, place: BlockPlace | undefined): Block | undefined {
    if (prose.text === '') return undefined;
    block.text = prose.text;
    if (prose.italics.length > 0) block.italics = prose.italics;
    if (block.as === 'title' || block.as === 'heading')
      plainOfTitle.set(block, oneLine(prose.plain));
    this.#finish(block, place);
    return block;
  }

  #finish(block: Block, place: BlockPlace | undefined): void {
    if (this.blocks.length >= MOST_BLOCKS) {
      throw new Unreadable(
        'too-many',
        `This file holds more than ${MOST_BLOCKS.toLocaleString('en-GB')} paragraphs. Split it into smaller files and gather those.`,
      );
    }
    block.place = place ?? { note: `paragraph ${this.blocks.length + 1}` };
    const under = [...this.#headings.map(({ text }) => text), ...this.#parents].filter(Boolean);
    if (under.length > 0) block.under = under;
    this.blocks.push(block);
  }
}

/** Kept beside the block: a heading's text is CommonMark, its title is not. */
const plainOfTitle = new WeakMap<Block, string>();

export function oneLine(plain: string): string {
  return plain.replace(/\s+/g, ' ').trim();
}

/** The prose of a plain text in one line. */
export function plainProse(text: string): Prose {
  const run: Run = { text };
  return proseOf([run]);
}
