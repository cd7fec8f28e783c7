/**
 * Citations of one printing, in the form the leader chose: plain (author, title, place), or MLA (Handbook, 9th edition,
 * 2021) or APA (Publication Manual, 7th edition, 2020) by a citation processor with the published styles, which is
 * loaded when one of these is first asked for.
 */
import { citeEntry, sourcesOf, type Citer } from './cite';

export type CiteForm = 'plain' | 'mla' | 'apa';

export const citePlainly: Citer = (_, headings) => ({
  head: 'Sources',
  here: (entry) => citeEntry(entry, headings),
  works: (entries) => sourcesOf(entries, headings),
});

/** The citer of a form. Rejects with a sentence where the processor cannot be had. */
export async function citerOf(form: CiteForm = 'plain'): Promise<Citer> {
  if (form === 'plain') return citePlainly;
  try {
    const { processed } = await import('./cite-processor');
    return await processed(form);
  } catch (cause) {
    throw new Error(
      'What sets citations in MLA and APA could not be loaded. Try again with a network, or cite by author and title.',
      { cause },
    );
  }
}
