import type { Run } from './safe-text';
import type { Watch } from './watch';
import { walk } from './xml';

const EM = new Set(['em', 'i', 'cite']);
const STRONG = new Set(['strong', 'b']);

/** A short text that may hold marks of HTML as runs: italics and bold kept, breaks of lines, all else words only. */
export async function plainOfHtml(text: string, watch: Watch): Promise<Run[]> {
  if (!/[<&]/.test(text)) return linesAsRuns(text, {});
  const runs: Run[] = [];
  let em = 0;
  let strong = 0;
  let skip = 0;
  await walk(
    text,
    {
      open(name) {
        if (EM.has(name)) em += 1;
        if (STRONG.has(name)) strong += 1;
        if (name === 'script' || name === 'style') skip += 1;
        if (name === 'br' || name === 'p' || name === 'div')
          runs.push({ text: '', lineBreak: true });
      },
      text(words) {
        if (skip > 0) return;
        runs.push(
          ...linesAsRuns(words, {
            ...(em > 0 ? { em: true } : {}),
            ...(strong > 0 ? { strong: true } : {}),
          }),
        );
      },
      close(name) {
        if (EM.has(name)) em -= 1;
        if (STRONG.has(name)) strong -= 1;
        if (name === 'script' || name === 'style') skip -= 1;
      },
    },
    watch,
  );
  return runs;
}

function linesAsRuns(text: string, setting: Partial<Run>): Run[] {
  return text.split(/\r\n|[\r\n]/).flatMap((line, index) =>
    index === 0
      ? [{ ...setting, text: line }]
      : [
          { text: '', lineBreak: true },
          { ...setting, text: line },
        ],
  );
}
