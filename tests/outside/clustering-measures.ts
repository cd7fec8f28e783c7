/**
 * Measures of how far a grouping agrees with known classes, written from their definitions (Manning, Raghavan & Schütze 2008,
 * section 16.3); used by tests only, and themselves checked against the book's example in `communities.test.ts`.
 */

/** Members of each group and class: rows by group, columns by class. */
export type Table = readonly (readonly number[])[];

export function tableOf(groups: readonly unknown[], classes: readonly unknown[]): Table {
  const groupNames = [...new Set(groups)];
  const classNames = [...new Set(classes)];
  return groupNames.map((group) =>
    classNames.map(
      (name) => groups.filter((each, at) => each === group && classes[at] === name).length,
    ),
  );
}

const sum = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);
const pairs = (count: number): number => (count * (count - 1)) / 2;
const rowSums = (table: Table): number[] => table.map(sum);
const columnSums = (table: Table): number[] =>
  (table[0] ?? []).map((_, column) => sum(table.map((row) => row[column] ?? 0)));

/** The share of members that belong to the commonest class of their group, 0 to 1. */
export function purity(table: Table): number {
  return sum(table.map((row) => Math.max(...row))) / sum(rowSums(table));
}

/** Pairs of members put together or apart, rightly or wrongly. */
export function pairCounts(table: Table): { tp: number; fp: number; fn: number; tn: number } {
  const tp = sum(table.flat().map(pairs));
  const together = sum(rowSums(table).map(pairs));
  const alike = sum(columnSums(table).map(pairs));
  const all = pairs(sum(rowSums(table)));
  return { tp, fp: together - tp, fn: alike - tp, tn: all - together - alike + tp };
}

/** The share of pairs decided rightly, 0 to 1. */
export function randIndex(table: Table): number {
  const { tp, fp, fn, tn } = pairCounts(table);
  return (tp + tn) / (tp + fp + fn + tn);
}

/** The Rand index less what chance would give, at most 1 (Hubert & Arabie 1985). */
export function adjustedRand(table: Table): number {
  const { tp, fp, fn, tn } = pairCounts(table);
  const expected = ((tp + fp) * (tp + fn)) / (tp + fp + fn + tn);
  return (tp - expected) / ((tp + fp + tp + fn) / 2 - expected);
}

/** The F measure of pairs; `beta` above 1 weighs recall more. */
export function pairF(table: Table, beta: number): number {
  const { tp, fp, fn } = pairCounts(table);
  const [precision, recall] = [tp / (tp + fp), tp / (tp + fn)];
  return ((beta ** 2 + 1) * precision * recall) / (beta ** 2 * precision + recall);
}

/** Mutual information over the mean of the two entropies, 0 to 1. */
export function normalisedMutualInformation(table: Table): number {
  const [rows, columns] = [rowSums(table), columnSums(table)];
  const all = sum(rows);
  const entropy = (counts: readonly number[]): number =>
    -sum(counts.map((count) => (count === 0 ? 0 : (count / all) * Math.log(count / all))));
  const shared = sum(
    table.flatMap((row, at) =>
      row.map((count, column) =>
        count === 0
          ? 0
          : (count / all) * Math.log((all * count) / ((rows[at] ?? 1) * (columns[column] ?? 1))),
      ),
    ),
  );
  return shared / ((entropy(rows) + entropy(columns)) / 2);
}
