/**
 * A journal as one self-contained, script-free web page to read or print: the read-only copy for a
 * family, and the journal as a book. What it can say is what a `JournalBook` can hold.
 */
import { fontFaces, type FontData } from './faces';
import { glyph, symbols } from './glyphs';
import type { BookEntry, Chapter, JournalBook } from './journal-book';
import { runs, type IndexLine } from './journal-index';
import { KIND_NAMES, language } from './html-leader';
import { counted } from '../journal/labels';
import { POLICY } from './policy';
import { quoted } from './quoted';
import { blockHtml, escapeHtml } from './safe-text';
import { sheetCss, type Paper, type Preset } from './sheet';

interface JournalHtmlHow {
  paper: Paper;
  fonts?: readonly FontData[];
  preset?: Preset;
}

export function journalHtml(book: JournalBook, how: JournalHtmlHow): string {
  const foot = { left: book.title, middle: 'page' as const, right: '' };
  const css = sheetCss({ copy: 'book', paper: how.paper, preset: how.preset, foot });
  return `<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${escapeHtml(book.title)}</title>
<style>
${fontFaces(how.fonts ?? [])}
${css}
</style>
</head>
<body>
<p class="how">To print: Ctrl P, or ⌘ P on a Mac. Paper ${how.paper}, scale 100%, the browser’s own headers and footers off.</p>
${symbols()}
<div class="sheet book">
<header class="head"><h1>${escapeHtml(book.title)}</h1>
${book.subtitle ? `<p class="sub">${escapeHtml(book.subtitle)}</p>` : ''}
<p class="count">${counted(book.entries, 'entry')}. Numbers in the index are those of entries.</p></header>
<main>
${contents(book)}
${book.chapters.map(chapter).join('\n')}
${index(book)}
</main>
</div>
</body>
</html>
`;
}

function contents({ chapters, index: lines }: JournalBook): string {
  if (chapters.length === 0) return '';
  const items = chapters.map(
    ({ title, book, entries }, at) =>
      `<li><a href="#c${at + 1}">${titled(title, book)}</a><span class="n">${entries.length}</span></li>`,
  );
  if (lines.length > 0) {
    items.push('<li><a href="#index">Index of headings</a></li>');
    items.push('<li><a href="#classes">Headings by commonplace classes</a></li>');
  }
  return `<nav class="front thick" aria-labelledby="contents"><h2 id="contents">Contents</h2><ol>${items.join('\n')}</ol></nav>`;
}

const titled = (title: string, book: boolean): string =>
  book ? `<em>${escapeHtml(title)}</em>` : escapeHtml(title);

function chapter({ title, book, by, entries }: Chapter, at: number): string {
  const id = `c${at + 1}`;
  return `<section class="chapter" aria-labelledby="${id}">
<header class="chaphead thick"><h2 id="${id}"${book ? ' class="work"' : ''}>${escapeHtml(title)}</h2>${by ? `<p>${escapeHtml(by)}</p>` : ''}</header>
${entries.map(entry).join('\n')}
</section>`;
}

function entry(one: BookEntry): string {
  const marks = [
    `<span><b class="n">${one.number}</b> ${glyph(one.kind)}${KIND_NAMES[one.kind]}</span>`,
    ...[one.place, one.written].flatMap((said) =>
      said ? [`<span>${escapeHtml(said)}</span>`] : [],
    ),
    ...(one.speaker ? [`<span>${escapeHtml(one.speaker)}</span>`] : []),
  ];
  const text = one.kind === 'quote' ? quoted(one.text) : one.text;
  const body = [
    one.title ? `<h3>${escapeHtml(one.title)}</h3>` : '',
    text.trim() ? `<div class="words"${language(one)} dir="auto">${blockHtml(text)}</div>` : '',
    one.picture ? `<p class="themes">A picture: ${escapeHtml(one.picture)}</p>` : '',
    one.themes.length > 0 ? `<p class="themes">${escapeHtml(one.themes.join(', '))}</p>` : '',
  ];
  return `<article class="entry" id="e${one.number}"><p class="side">${marks.join('\n')}</p><div>${body.join('')}</div></article>`;
}

function index({ index: lines, classes }: JournalBook): string {
  if (lines.length === 0) return '';
  const items = lines.map(indexLine).join('\n');
  const byClass = classes.map(
    ({ name, lines: heads }) =>
      `<h3>${escapeHtml(name)}</h3><ul>${heads.map(indexLine).join('\n')}</ul>`,
  );
  return `<section class="index" aria-labelledby="index"><div class="thick"><h2 id="index">Index of headings</h2></div>
<div class="cols"><ul>${items}</ul></div></section>
<section class="index" aria-labelledby="classes"><div class="thick"><h2 id="classes">Headings by commonplace classes</h2></div>
<div class="cols">${byClass.join('\n')}</div></section>`;
}

function indexLine({ name, kind, entries, see }: IndexLine): string {
  const link = (number: number): string => `<a href="#e${number}">${number}</a>`;
  const numbers = runs(entries).map(([from, to]) =>
    from === to ? link(from) : `${link(from)}–${link(to)}`,
  );
  const also =
    see.length > 0
      ? `${numbers.length > 0 ? 'see also' : 'see'} ${see.map(escapeHtml).join('; ')}`
      : '';
  const after = [...numbers, ...(also ? [also] : [])];
  return `<li><span${kind === 'book' ? ' class="work"' : ''}>${escapeHtml(name)}</span>, ${after.join(', ')}</li>`;
}
