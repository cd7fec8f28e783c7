/**
 * How fast the engine answers: `npm run bench`, or `npm run bench -- --entries 200000` for a lifetime. Read the ratios: milliseconds are those of
 * the machine and of what else it does. Exits 1 where an aim is missed.
 */
import thesaurus from '../../../shared/thesaurus/related-words.json';
import { Engine } from '../../../src/engine/engine';
import { RelatedWords } from '../../../src/language/related-words';
import { manyEntries } from '../many-entries';
import { measuresOf, timesOf } from './measures';

export { load } from './loading';
import { PlainSearch } from './plain-search';

const USUAL = 20_000;
/** With more entries than usual an aim may be missed by this factor. */
const LIFETIME_FACTOR = 3;

function built<Made>(name: string, make: () => Made): Made {
  const began = performance.now();
  const made = make();
  process.stderr.write(`${name}: ${((performance.now() - began) / 1000).toFixed(1)} s\n`);
  return made;
}

export function run(args: readonly string[]): number {
  const at = args.indexOf('--entries');
  const count = at < 0 ? USUAL : Number(args[at + 1]);
  if (!Number.isInteger(count) || count < 100) {
    process.stderr.write('Say how many entries, 100 or more: --entries 20000.\n');
    return 2;
  }
  const journal = built(`${count} entries`, () => manyEntries(count));
  const engine = new Engine(journal, {
    now: () => new Date('2026-01-05T12:00:00.000Z'),
    newId: () => '0190a000-0000-7000-9000-000000000000',
  });
  engine.useRelatedWords(new RelatedWords(thesaurus));
  const plain = built('plain MiniSearch', () => new PlainSearch(journal));
  built('index', () => engine.findIndex);
  const { weaveIndex } = engine;
  built('tables and graph', () => [
    weaveIndex.words,
    weaveIndex.names,
    weaveIndex.kinds,
    weaveIndex.related,
    weaveIndex.cloth,
    weaveIndex.links,
  ]);
  built('meaning', () => {
    const learning = weaveIndex.learnMeaning();
    while (!learning.next().done);
  });
  const factor = count > USUAL ? LIFETIME_FACTOR : 1;
  let [base, missed] = [NaN, 0];
  const lines = measuresOf(engine, plain).map((measure) => {
    const { middle, high } = timesOf(measure);
    if (Number.isNaN(base)) base = high;
    const aim = measure.aim === undefined ? undefined : measure.aim * factor;
    const met = aim === undefined || high <= aim;
    if (!met) missed += 1;
    const aimed = aim === undefined ? '' : `${aim} ms: ${met ? 'reached' : '**not reached**'}`;
    const cells = [
      measure.name,
      middle.toFixed(2),
      high.toFixed(2),
      (high / base).toFixed(2),
      aimed,
    ];
    return `| ${cells.join(' | ')} |`;
  });
  const head = `| ${count} entries | p50 ms | p95 ms | p95 to MiniSearch’s | p95 aimed at |`;
  process.stdout.write(`${[head, '| --- | --: | --: | --: | --: |', ...lines].join('\n')}\n`);
  return missed > 0 ? 1 : 0;
}
