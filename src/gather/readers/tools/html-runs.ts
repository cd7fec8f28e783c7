/** What the runs of one paragraph of a page are by themselves: parts of it, a bullet typed out, a title in bold, a term and what is said of it. */
import type { Prose, Run } from './safe-text';

/** A paragraph wholly in bold and no longer than this is the title line of what follows, as documents without styles have it. */
const LONGEST_BOLD_HEADING = 80;
/** A bullet written out as a letter, as word processors save lists to pages. */
export const TYPED_BULLET = /^[•‣▪◦●○·∙\uf0b7\u2043]\s/;

/** Two breaks with nothing between them begin a new paragraph. */
export function atEmptyLines(runs: readonly Run[]): Run[][] {
  const parts: Run[][] = [[]];
  let breaks = 0;
  for (const run of runs) {
    if (run.lineBreak) breaks += 1;
    else if (run.text.trim() !== '') {
      if (breaks > 1) parts.push([]);
      else if (breaks === 1) parts.at(-1)?.push({ text: '', lineBreak: true });
      breaks = 0;
      parts.at(-1)?.push(run);
    } else if (breaks === 0) parts.at(-1)?.push(run);
  }
  return parts;
}

export function withoutBullet(runs: readonly Run[]): Run[] {
  const first = runs.findIndex(({ text }) => text.trim() !== '');
  return runs.map((run, index) =>
    index === first ? { ...run, text: run.text.trimStart().slice(1) } : run,
  );
}

export function isBoldHeading(runs: readonly Run[], prose: Prose): boolean {
  return (
    prose.plain.length <= LONGEST_BOLD_HEADING &&
    !/[.!?;,”’"]$/.test(prose.plain) &&
    !prose.plain.includes('\n') &&
    runs.every(({ text, strong }) => strong || text.trim() === '')
  );
}

/** A term of a list, and after a colon what is said of it. */
export function withTerm(term: Prose, prose: Prose): Prose {
  const lead = `${term.text}: `;
  const moved = prose.italics.map(([from, to]): [number, number] => [
    from + lead.length,
    to + lead.length,
  ]);
  return {
    text: lead + prose.text,
    italics: [...term.italics, ...moved],
    plain: `${term.plain}: ${prose.plain}`,
  };
}
