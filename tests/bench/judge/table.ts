import type { Goal, Measured, Result } from './result';
import { ENGINE } from './result';
import type { Measure, Scores } from './scores';

export const HEAD: Record<Measure, string> = {
  ndcg10: 'nDCG@10',
  map: 'MAP',
  recall10: 'recall@10',
  recall50: 'recall@50',
  mrr: 'MRR',
  hit5: 'hit@5',
  hit10: 'hit@10',
};
const ORDER = Object.keys(HEAD) as Measure[];

export const figure = (value: number): string => value.toFixed(3).replace(/^0/, '');

const said = (goal: Goal): string =>
  'atLeast' in goal
    ? `${HEAD[goal.measure]} at least ${figure(goal.atLeast)}`
    : goal.timesPlain === 1
      ? `${HEAD[goal.measure]} not below plain`
      : `${HEAD[goal.measure]} ${Math.round(100 * (goal.timesPlain - 1))}% above plain`;

const engineOf = (measured: Measured): Result =>
  measured.results.find(({ way }) => way === ENGINE)!;

export function goalMet({ goal, results }: Measured): boolean {
  const engine = results.find(({ way }) => way === ENGINE)!.scores[goal.measure];
  if ('atLeast' in goal) return engine >= goal.atLeast;
  return engine >= goal.timesPlain * results[0]!.scores[goal.measure];
}

function rowOf(way: string, shown: readonly Measure[], scores: Scores): string[] {
  return [way, ...ORDER.map((measure) => (shown.includes(measure) ? figure(scores[measure]) : ''))];
}

/** One Markdown table: each set with every way of ranking under it, and whether its aim was reached. */
export function markdownTable(all: readonly Measured[]): string {
  const head = ['', ...ORDER.map((measure) => HEAD[measure]), 'aimed at'];
  const lines = [head, ['---', ...head.slice(1).map(() => '--:')]];
  for (const measured of all) {
    const { set, shown, goal, results } = measured;
    const { queries } = engineOf(measured).scores;
    const met = goalMet(measured) ? 'reached' : '**not reached**';
    lines.push([
      `**${set}** (${queries} queries)`,
      ...ORDER.map(() => ''),
      `${said(goal)}: ${met}`,
    ]);
    for (const { way, scores } of results) lines.push([...rowOf(way, shown, scores), '']);
  }
  const widths = head.map((_, at) => Math.max(...lines.map((line) => line[at]!.length)));
  return lines
    .map((line, row) =>
      row === 1
        ? `| ${line.map((cell, at) => (cell === '---' ? '-'.repeat(widths[at]!) : `${'-'.repeat(Math.max(1, widths[at]! - 1))}:`)).join(' | ')} |`
        : `| ${line.map((cell, at) => cell.padEnd(widths[at]!)).join(' | ')} |`,
    )
    .join('\n');
}
