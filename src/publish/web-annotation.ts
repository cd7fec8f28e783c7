/** The quotations as annotations on their books, in JSON-LD: Web Annotation Data Model, W3C Recommendation, 23 February 2017. */
import type { Entry } from '../journal/records';
import { plainText } from '../language/markdown';
import { bookTieOf, citeEntry } from './cite';
import { bookIri, iriOf } from './iri';
import type { OpenRows } from './open-rows';
import { clean } from './safe-text';

export const ANNOTATION_CONTEXT = 'http://www.w3.org/ns/anno.jsonld';

/**
 * One collection with one page. Each quotation is a highlighting: what is quoted is the passage that a
 * text quote selector picks from the book, themes are tags. The book's title and authors and the place
 * in it go by the Dublin Core terms that the context knows. A quotation without a book has a source of
 * its own that says who spoke, where that is known.
 */
export function toWebAnnotations(rows: OpenRows): string {
  const items = rows.entries.flatMap((entry) => annotationOf(entry, rows) ?? []);
  const id = iriOf(rows.id);
  const page = `${id.startsWith('#') ? id : `${id}#`}page-1`;
  const collection = {
    '@context': ANNOTATION_CONTEXT,
    id,
    type: 'AnnotationCollection',
    label: clean(`Quotations from ${rows.name}`),
    total: items.length,
    ...(items.length > 0
      ? { first: { id: page, type: 'AnnotationPage', partOf: id, startIndex: 0, items } }
      : {}),
  };
  return `${JSON.stringify(collection, null, 1)}\n`;
}

function annotationOf(entry: Entry, { headings }: OpenRows): object | undefined {
  const exact = clean(plainText(entry.text)).trim();
  if (entry.kind !== 'quote' || exact === '') return undefined;
  const tags = entry.ties.flatMap((tie) => {
    const theme = headings.get(tie.heading);
    if (theme?.kind !== 'theme') return [];
    return [{ type: 'TextualBody', purpose: 'tagging', value: clean(theme.name) }];
  });
  const cited = citeEntry(entry, headings);
  return {
    id: iriOf(entry.id),
    type: 'Annotation',
    motivation: 'highlighting',
    created: entry.added,
    modified: entry.changed,
    ...(tags.length > 0 ? { body: tags } : {}),
    target: {
      type: 'SpecificResource',
      source: sourceOf(entry, headings),
      selector: { type: 'TextQuoteSelector', exact },
      ...(cited ? { 'dcterms:bibliographicCitation': clean(plainText(cited)) } : {}),
    },
  };
}

function sourceOf(entry: Entry, headings: OpenRows['headings']): object {
  const found = bookTieOf(entry, headings);
  const names = (ids: readonly string[]): string[] =>
    ids.flatMap((id) => {
      const heading = headings.get(id);
      return heading?.kind === 'person' ? [clean(heading.name)] : [];
    });
  const creators = found
    ? names(found.book.authors)
    : names(entry.ties.filter(({ role }) => role === 'by').map(({ heading }) => heading));
  const own = iriOf(entry.id);
  return {
    id: found ? bookIri(found.book) : `${own.startsWith('#') ? own : `${own}#`}source`,
    type: 'Text',
    ...(found ? { 'dc:title': clean(found.book.name) } : {}),
    ...(creators.length > 0 ? { 'dc:creator': creators } : {}),
    ...(found?.book.language ? { language: found.book.language } : {}),
  };
}
