/**
 * Citations against what the processor answers by itself with the published styles (named, with their versions, in
 * gold/citations.json). The answers were made apart from this project and are kept, so that neither what we hand the
 * processor nor a newer version of it or of the styles can change a citation unseen. The style writes an author again as
 * three hyphens, we as three dashes; the Handbook allows either. By itself it files titles by their article, where both
 * manuals pass it over; no case here turns on that. The many were drawn at random from names, titles, years and pages.
 */
import { describe, expect, test } from 'vitest';
import { citerOf } from '../../src/publish/cite-forms';
import { made, told, type Work } from './citation-cases';
import gold from './gold/citations.json';
import many from './gold/citations-many.json';

interface Case {
  say: string;
  works: Work[];
  places: (string | null)[];
  mla: { here: string[]; works: string[] };
  apa: { here: string[]; works: string[] };
}

describe.each(['mla', 'apa'] as const)('the form %s, as a CSL processor has it', (form) => {
  test.each(([...gold.cases, ...many] as Case[]).map((one): [string, Case] => [one.say, one]))(
    '%s',
    async (_, one) => {
      const { headings, entries } = made(one);
      const cited = (await citerOf(form))(entries, headings);
      expect(entries.map((entry) => told(cited.here(entry)))).toEqual(one[form].here);
      expect(cited.works(entries).map(told)).toEqual(one[form].works);
    },
  );
});
