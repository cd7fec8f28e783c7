/** A guide as one self-contained, script-free web page, made to be printed. */
import { handoutOf } from './document';
import type { GuideDocument } from './model';
import { fontFaces, type FontData } from './faces';
import { symbols } from './glyphs';
import { handoutBody } from './html-handout';
import { leaderBody } from './html-leader';
import { POLICY } from './policy';
import { escapeHtml } from './safe-text';
import { sheetCss, type Lines, type Paper, type Preset, type SheetStyle } from './sheet';

export interface HtmlHow {
  copy: 'leader' | 'handout';
  paper: Paper;
  /** The faces of `FACES` with their bytes; without them the reader's own serif and sans are used. */
  fonts?: readonly FontData[];
  preset?: Preset;
  /** What a writing space on the handout is ruled with; the usual is `ruled`. */
  lines?: Lines;
}

/** The page. `@page` margin boxes carry the foot, so print from Chromium, or from a browser that knows them. */
export function toHtml(doc: GuideDocument, how: HtmlHow): string {
  const leader = how.copy === 'leader';
  const handout = handoutOf(doc);
  const body = leader ? leaderBody(doc) : handoutBody(handout, how.lines ?? 'ruled');
  const foot: SheetStyle['foot'] = leader
    ? { left: doc.circle ?? '', middle: 'pages', right: 'Leader’s copy' }
    : { left: handout.circle ?? '', right: handout.day ?? '' };
  const css = sheetCss({
    copy: how.copy,
    paper: how.paper,
    preset: how.preset,
    lines: how.lines,
    foot,
  });
  const title = `${escapeHtml(doc.title)}, ${leader ? 'leader’s copy' : 'handout'}`;
  return `<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<style>
${fontFaces(how.fonts ?? [])}
${css}
</style>
</head>
<body>
<p class="how">To print: Ctrl P, or ⌘ P on a Mac. Paper ${how.paper}, scale 100%, the browser’s own headers and footers off${leader ? '' : ', on both sides of one leaf'}.</p>
${symbols()}
<div class="sheet ${how.copy}">
${body}
<footer class="screenfoot"><span>${escapeHtml(foot.left)}</span><span>${escapeHtml(foot.right)}</span></footer>
</div>
</body>
</html>
`;
}
