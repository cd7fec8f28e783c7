/**
 * The yardstick: `npm run judge` scores finding, nearness and proposals on judged sets, plain BM25 beside them in the same run, and prints one
 * table. Words after `--` choose sets by any part of their names: `npm run judge -- quotations`; `npm run judge -- --ablation` tells what each part brings.
 */
import { ablation } from './ablation';
import { claims } from './claims';
import { goldSet } from './gold';
import { knownItems } from './known-items';
import { byTopicName, hiddenEntries, hiddenTopics, nearByTopic } from './quotations';
import { wholeEngine, type MakeEngine, type Measured } from './result';
import { questions, sameStory } from './stories';
import { goalMet, markdownTable } from './table';

type Judge = (make: MakeEngine) => Measured | undefined;

/** Every set by the name it is chosen by; those of `tuning` are measured only when named. */
export const SETS: Record<string, Judge> = {
  'fairytale questions': (make) => questions('val', make),
  'fairytale same story': (make) => sameStory('val', make),
  scifact: claims,
  gold: (make) => goldSet(make),
  'gold synonym': (make) => goldSet(make, 'synonym'),
  'gold paraphrase': (make) => goldSet(make, 'paraphrase'),
  'gold situation': (make) => goldSet(make, 'situation'),
  'quotations by name': byTopicName,
  'quotations hidden topics': (make) => hiddenTopics(make),
  'quotations hidden entries': (make) => hiddenEntries(make),
  'quotations near': nearByTopic,
  'known exact': (make) => knownItems('as they stand', make),
  'known begun': (make) => knownItems('the last begun', make),
  'known misspelt': (make) => knownItems('one misspelt', make),
};
export const TUNING: Record<string, Judge> = {
  'tuning fairytale questions': (make) => questions('train', make, 1200),
  'tuning fairytale same story': (make) => sameStory('train', make, 300),
  'tuning quotations hidden topics': (make) => hiddenTopics(make, 2),
  'tuning quotations hidden entries': (make) => hiddenEntries(make, 2),
};

export function run(args: readonly string[]): number {
  const asked = args.filter((word) => !word.startsWith('--'));
  if (args.includes('--ablation')) {
    process.stdout.write(`${ablation(SETS, asked)}\n`);
    return 0;
  }
  const wanted = Object.entries({ ...SETS, ...(asked.length > 0 ? TUNING : {}) }).filter(
    ([name]) => asked.length === 0 || asked.some((word) => name.includes(word)),
  );
  const measured: Measured[] = [];
  for (const [name, judge] of wanted) {
    const began = performance.now();
    const found = judge(wholeEngine);
    const seconds = ((performance.now() - began) / 1000).toFixed(1);
    process.stderr.write(
      found ? `${name}: ${seconds} s\n` : `${name}: skipped, its data is not in ../shared/data\n`,
    );
    if (found) measured.push(found);
  }
  process.stdout.write(`${markdownTable(measured)}\n`);
  return measured.every(goalMet) ? 0 : 1;
}
