import type { Block, ReadWhole } from '../block';
import { BlockList, oneLine } from './tools/block-list';
import { dateOfMetadata } from './tools/dates-found';
import { plainOfHtml } from './tools/inline-html';
import { proseOf, type Prose } from './tools/safe-text';
import { Unreadable, type Watch } from './tools/watch';
import { walk, type Attributes, type Marked } from './tools/xml';

const DEEPEST_HEADING = 6;

/** Reads an outline in OPML 2.0: a line others hang from is a heading of theirs, a line nothing hangs from an item; notes follow their line. */
export async function readOpml(text: string, watch: Watch): Promise<ReadWhole> {
  const reader = new OutlineReader();
  await walk(text, reader, watch, { xml: true });
  if (!reader.begun) {
    throw new Unreadable(
      'damaged',
      'This OPML file holds no outline; it is damaged or cut short. Save it again where it comes from.',
    );
  }
  const list = new BlockList();
  let number = 0;
  const setDown = async (nodes: readonly Node[], depth: number, items: number): Promise<void> => {
    for (const node of nodes) {
      await watch.rest();
      number += 1;
      const place = { note: `outline line ${number}` };
      const parent = node.children.length > 0;
      if (parent && depth <= DEEPEST_HEADING && items === 0) {
        list.heading(await prose(node.text, watch), depth, place);
        remark(list.paragraph(await prose(node.note, watch), place), node.text);
        await setDown(node.children, depth + 1, 0);
        list.endHeading(depth);
        continue;
      }
      list.item(await prose(node.text, watch), items + 1, false, place);
      remark(list.paragraph(await prose(node.note, watch), place), node.text);
      if (!parent) continue;
      list.openParent(node.text);
      await setDown(node.children, depth + 1, items + 1);
      list.closeParent();
    }
  };
  await setDown(reader.roots, 1, 0);
  if (!reader.ended) list.note('The file is cut short; what came before the cut was read.');
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  const title = oneLine(reader.title) || list.settleTitle();
  if (title) whole.title = title;
  const written = dateOfMetadata(reader.created.replace(/^\w{3}, (\d{1,2} \w{3} \d{4}).*$/, '$1'));
  if (written) whole.written = written;
  return whole;
}

/** What stands beside a line of an outline is a remark on it, whatever the line is. */
function remark(block: Block | undefined, on: string): void {
  if (!block) return;
  block.on = on;
  if (!/\?\s*$/.test(block.text)) block.kind = 'note';
}

/** Outliners keep italics as HTML inside the attribute. */
async function prose(text: string, watch: Watch): Promise<Prose> {
  return proseOf(await plainOfHtml(text, watch));
}

interface Node {
  text: string;
  note: string;
  children: Node[];
}

/** Deeper lines join the deepest kept, so that no outline is too deep to hold. */
const DEEPEST_NODE = 200;

class OutlineReader implements Marked {
  readonly roots: Node[] = [];
  title = '';
  created = '';
  begun = false;
  ended = false;
  readonly #open: Node[][] = [this.roots];
  #field = '';

  open(name: string, attributes: Attributes): void {
    const tag = name.toLowerCase();
    if (tag === 'body') this.begun = true;
    this.#field = tag;
    if (tag !== 'outline') return;
    const node: Node = {
      text: attributes['text'] ?? attributes['title'] ?? '',
      note: attributes['_note'] ?? attributes['description'] ?? '',
      children: [],
    };
    const into = this.#open.at(-1) ?? this.roots;
    into.push(node);
    this.#open.push(this.#open.length > DEEPEST_NODE ? into : node.children);
  }

  text(text: string): void {
    if (this.#field === 'title') this.title += text;
    if (this.#field === 'datecreated') this.created += text.trim();
  }

  close(name: string): void {
    const tag = name.toLowerCase();
    this.#field = '';
    if (tag === 'outline' && this.#open.length > 1) this.#open.pop();
    if (tag === 'body') this.ended = true;
  }
}
