/** The handout: passages set large, questions to talk about, space to write, and what to read next. */
import { isNamedGrid, linesFor } from './handout-space';
import type { Activity, Handout, Passage } from './model';
import { cautions, language, works } from './html-leader';
import { quoted } from './quoted';
import { blockHtml, escapeHtml, inlineHtml } from './safe-text';
import type { Lines } from './sheet';

/** Beyond so many characters a passage may run from one column into the next. */
const LONG = 900;

export function handoutBody(handout: Handout, lines: Lines): string {
  const onFront = handout.activities.filter(({ space }) => space !== 'lines');
  const toWrite = handout.activities.filter(({ space }) => space === 'lines');
  return `<header class="head"><h1>${escapeHtml(handout.title)}</h1>
${handout.subtitle ? `<p class="sub">${inlineHtml(handout.subtitle)}</p>` : ''}</header>
<main class="${lines}">
${passages(handout.passages)}
${questions(handout.questions)}
${onFront.map((one) => activity(one, 0)).join('\n')}
${cautions(handout.cautions)}
${works(handout.works)}
${writing(toWrite)}
${until(handout.until)}
<svg class="knot" viewBox="0 0 20 20" aria-hidden="true"><use href="#k-knot"/></svg>
</main>`;
}

function passages(all: readonly Passage[]): string {
  if (all.length === 0) return '';
  const figures = all.map(
    (one) =>
      `<figure class="passage${one.text.length > LONG ? ' long' : ''}"><blockquote${language(one)} dir="auto">${blockHtml(quoted(one.text))}</blockquote>${one.cite ? `<figcaption>${inlineHtml(one.cite)}</figcaption>` : ''}</figure>`,
  );
  return `<section class="passages thick" aria-label="Passages"><div${all.length > 1 ? ' class="two"' : ''}>${figures.join('\n')}</div></section>`;
}

function questions(all: readonly string[]): string {
  if (all.length === 0) return '';
  const items = all.map(
    (text, at) =>
      `<li><span class="n">${at + 1}</span><div class="words" dir="auto">${inlineHtml(text)}</div></li>`,
  );
  return `<section class="block talk" aria-labelledby="talk"><h2 id="talk">To talk about</h2><ol>${items.join('\n')}</ol></section>`;
}

function writing(all: readonly Activity[]): string {
  const each = linesFor(all.length);
  return all.map((one) => activity(one, each)).join('\n');
}

function activity(one: Activity, lines: number): string {
  const frame = one.space === 'lines' ? 'task thick' : 'task block';
  const space =
    lines > 0 ? `<div class="space" aria-hidden="true">${'<i></i>'.repeat(lines)}</div>` : '';
  return `<section class="${frame}${gridClass(one)}"><h2>${escapeHtml(one.title)}</h2><div class="words" dir="auto">${blockHtml(one.text)}</div>${space}</section>`;
}

/** A grid whose first column is named row by row gives that column less room and no frame. */
function gridClass({ space, text }: Activity): string {
  if (space !== 'grid') return '';
  return isNamedGrid(text) ? ' grid named' : ' grid';
}

function until(all: readonly string[]): string {
  if (all.length === 0) return '';
  const texts = all.map((text) => `<div class="words" dir="auto">${blockHtml(text)}</div>`);
  return `<section class="next" aria-labelledby="until"><h2 id="until">Until we meet again</h2><div>${texts.join('')}</div></section>`;
}
