import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { gunzipSync } from 'node:zlib';
import snowball from 'snowball-stemmers';
import { describe, expect, test } from 'vitest';
import { stem } from '../../src/language/stem';

const pairs = (text: string): [string, string][] =>
  text
    .trim()
    .split(/\s*;\s*|\n+/)
    .map((pair) => pair.trim().split(/\s+/) as [string, string]);

// Source: Porter 1980, "An algorithm for suffix stripping", as in snowball-data porter/voc.txt and output.txt.
const PORTER = pairs(
  `
  caresses caress; ponies poni; ties ti; caress caress; cats cat; feed feed; agreed agre; plastered plaster;
  bled bled; sing sing; troubled troubl; sized size; hopping hop; tanned tan; falling fall; hissing hiss;
  failing fail; filing file; happy happi; sky sky
`
    .replace(/;\s*$/gm, ';')
    .replace(/\n/g, ' '),
);

// Same source: words that surprise whoever stems the names of themes.
const PORTER_TRAPS = pairs(
  'universe univers; university univers; news new; argue argu; argument argument; courageous courag; narration narrat',
);

describe('the original Porter stemmer, for comparison', () => {
  const porter = snowball.newStemmer('porter');

  test.each([...PORTER, ...PORTER_TRAPS])('makes %s into %s', (word, expected) => {
    expect(porter.stem(word)).toBe(expected);
  });
});

// Words are stemmed by its successor, Snowball English, which differs in these two of Porter's examples: "ties" keeps its e
// after two letters or fewer, and "news" is an exception.
describe('stems of Snowball English', () => {
  const changed = new Map([
    ['ties', 'tie'],
    ['news', 'news'],
  ]);

  test.each([...PORTER, ...PORTER_TRAPS])(
    '%s keeps to Porter (%s) but for ties and news',
    (word, porter) => {
      expect(stem(word)).toBe(changed.get(word) ?? porter);
    },
  );

  // Source: snowball-data english/diffs.txt (commit 6a14b3af), stretches from frivol- to ghost- and perform- to pit-.
  test.each(
    pairs(
      `frivolities frivol; frivolous frivol; frolicsome frolicsom; frontispiece frontispiec; frosty frosti;
      frowning frown; frozen frozen; frugality frugal; fruitlessly fruitless; fuddled fuddl; fugitives fugit;
      fulfilment fulfil; fullness full; fully fulli; fumigation fumig; fundamentally fundament; funeral funer;
      funereal funer; funniest funniest; funny funni; furious furious; furiously furious; furnaces furnac;
      furniture furnitur; furtherance further; furtively furtiv; fusibility fusibl; gaieties gaieti;
      gainsaying gainsay; galleries galleri; gallantry gallantri; gambling gambl; gambolling gambol;
      gardening garden; garnished garnish; gases gase; geese gees; generalities general; generally general;
      generations generat; generosity generos; generous generous; genesis genesi; genius genius; gentleman gentleman;
      gentlemanly gentleman; gentleness gentl; gentlest gentlest; gently gentl; genuinely genuin; geographer geograph;
      geologist geologist; geologizing geolog; geometry geometri; gesticulations gesticul; ghostly ghost;
      performance perform; perilously peril; periodically period; permission permiss; permitted permit;
      perpetually perpetu; perplexity perplex; persecution persecut; perseverance persever; persistence persist;
      personality person; personification personif; persuasively persuas; perversity pervers; petition petit;
      petitioners petition; philanthropist philanthropist; philosophers philosoph; philosophical philosoph;
      philosophy philosophi; phrases phrase; physicians physician; picturesque picturesqu; piercing pierc;
      pilgrimage pilgrimag; pining pine; pinning pin; piteously piteous; pitiable pitiabl; pitied piti;
      pitiful piti; pitilessly pitiless`.replace(/\n\s*/g, ' '),
    ),
  )('%s is %s in the published vocabulary', (word, expected) => {
    expect(stem(word)).toBe(expected);
  });
});

// Source: the words of the FairytaleQA stories (open data), stemmed by an independent port of the same algorithm.
const stories = path.resolve(process.cwd(), '../shared/data/fairytale-train-sections.jsonl.gz');
test.skipIf(!existsSync(stories))(
  'every word of the fairy tales has the stem another port gives it',
  () => {
    const other = snowball.newStemmer('english');
    const text = gunzipSync(readFileSync(stories)).toString().toLowerCase();
    const words = [...new Set(text.match(/[a-z]+/g))];
    expect(words.length).toBeGreaterThan(5000);
    expect(words.filter((word) => stem(word) !== other.stem(word))).toEqual([]);
  },
);
