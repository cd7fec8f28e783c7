import type { ReadWhole } from '../block';
import { BlockList, plainProse } from './tools/block-list';
import { LIST_MARK, listMark } from './tools/line-kinds';
import { indentOf, linesOf } from './text';
import type { Watch } from './tools/watch';

interface Node {
  indent: number;
  text: string;
  bulleted: boolean;
  ordered: boolean;
  line: number;
}

const LONGEST_LINE = 200;

/** Whether a text is an outline: most of its lines hang from others by indentation, one step at a time, and few are long. */
export function isOutline(text: string): boolean {
  const sample = text.slice(0, 50_000);
  const nodes = nodesOf(sample);
  if (nodes.length < 4) return false;
  let deeper = 0;
  let opens = 0;
  let jumps = 0;
  const step = stepOf(nodes);
  for (const [index, node] of nodes.entries()) {
    if (node.text.length > LONGEST_LINE) return false;
    if (node.indent > 0) deeper += 1;
    const before = nodes[index - 1];
    if (!before || node.indent <= before.indent) continue;
    opens += 1;
    if (node.indent - before.indent > step) jumps += 1;
  }
  const wrapped = nodes.filter(({ text: line, bulleted }) => !bulleted && /^\p{Ll}/u.test(line));
  return (
    nodes[0]?.indent === 0 &&
    opens > 0 &&
    deeper >= nodes.length * 0.4 &&
    jumps <= opens / 4 &&
    wrapped.length <= nodes.length / 5
  );
}

function nodesOf(text: string): Node[] {
  return linesOf(text)
    .filter(({ text: line }) => line.trim() !== '')
    .map(({ text: line, number }) => {
      const mark = listMark(line);
      return {
        indent: indentOf(line),
        text: mark?.rest ?? line.trim(),
        bulleted: LIST_MARK.test(line),
        ordered: mark?.ordered ?? false,
        line: number,
      };
    });
}

/** The commonest step inwards. */
function stepOf(nodes: readonly Node[]): number {
  const steps = new Map<number, number>();
  for (const [index, node] of nodes.entries()) {
    const step = node.indent - (nodes[index - 1]?.indent ?? node.indent);
    if (step > 0) steps.set(step, (steps.get(step) ?? 0) + 1);
  }
  return [...steps].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 4;
}

/**
 * Reads an outline by indentation. A line others hang from is a heading of theirs, or with a bullet an item they hang from; a line nothing
 * hangs from is an item.
 */
export async function readOutline(text: string, watch: Watch): Promise<ReadWhole> {
  const list = new BlockList();
  const nodes = nodesOf(text);
  /** Indents of the lines the present one hangs from, and which of them are items. */
  const open: { indent: number; item: boolean }[] = [];
  for (const [index, node] of nodes.entries()) {
    while ((open.at(-1)?.indent ?? -1) >= node.indent) {
      if (open.pop()?.item) list.closeParent();
      else list.endHeading(open.length + 1);
    }
    const place = { line: node.line, note: `line ${node.line}` };
    const parent = (nodes[index + 1]?.indent ?? 0) > node.indent;
    const prose = plainProse(node.text.replace(/:$/, parent ? '' : ':'));
    const items = open.filter(({ item }) => item).length;
    if (parent && !node.bulleted && items === 0 && open.length < 6) {
      list.heading(prose, open.length + 1, place);
      open.push({ indent: node.indent, item: false });
    } else {
      list.item(prose, items + 1, node.ordered, place);
      if (parent) {
        list.openParent(prose.plain);
        open.push({ indent: node.indent, item: true });
      }
    }
    await watch.rest();
  }
  const title = list.settleTitle();
  const whole: ReadWhole = { ok: true, blocks: list.blocks, notes: list.notes };
  if (title !== undefined) whole.title = title;
  return whole;
}
