/** Pages of a place as a reference says them, however they were written down. */

const ONE = '(?:\\d+|[ivxlc]+)';
const SPAN = new RegExp(
  `(?<![\\p{L}\\d])(${ONE})(?:\\s*[-–—]\\s*|\\s+to\\s+)(${ONE})(?![\\p{L}\\d])`,
  'giu',
);
/** "p. ", "pp.", "page " before the page itself; what follows tells "p12" from "plate". */
const SAYS = /^(?:p|pg|page|(pp|pgs|pages))(?:\.\s*|\s+|(?=\d))(?=\S)/i;

/** "p. 61", "pp. 12–14", "p. xii"; `long` has "page 61". What says already that it is a page, or pages, does not say it twice. */
export function pageSaid(page: string, style: 'short' | 'long' = 'short'): string {
  const typed = page.trim();
  const many = SAYS.exec(typed)?.[1] !== undefined;
  const bare = typed.replace(SAYS, '');
  const even = bare.replace(SPAN, '$1–$2');
  const [one, more] = style === 'long' ? ['page', 'pages'] : ['p.', 'pp.'];
  return `${many || bare.search(SPAN) >= 0 ? more : one} ${even}`;
}
