/** The leader's copy: a clock down the left, prompts, cues under them, minutes and level at the right. */
import type { EntryKind, Level } from '../journal/records';
import { capital } from './clock';
import type { Cue, DocItem, DocPart, GuideDocument } from './model';
import { glyph, levelSorts } from './glyphs';
import { DEFERENCE } from './lists';
import { quoted } from './quoted';
import { blockHtml, escapeHtml, inlineHtml } from './safe-text';
import { markOf } from './item-words';

export const KIND_NAMES: Record<EntryKind | 'free', string> = {
  note: 'Note',
  quote: 'Quote',
  question: 'Question',
  lesson: 'Lesson idea',
  assignment: 'Assignment',
  free: 'Other',
};

const KEEP_LINES = 6;

export function leaderBody(doc: GuideDocument): string {
  return `<header class="head">
<div><h1>${escapeHtml(doc.title)}</h1>
${doc.subtitle ? `<p class="sub">${inlineHtml(doc.subtitle)}</p>` : ''}
${doc.when ? `<p class="when">${escapeHtml(doc.when)}</p>` : ''}</div>
${aside(doc)}
</header>
<main>
${doc.objective ? `<p class="goal"><b>Aim</b> ${escapeHtml(doc.objective)}</p>` : ''}
${doc.note ? `<div class="leadnote words">${blockHtml(doc.note)}</div>` : ''}
${cautions(doc.cautions.map(({ text }) => text))}
${doc.parts.map(part).join('\n')}
${doc.ending ? `<p class="ending"><b class="clock">${doc.ending.clock}</b> ${escapeHtml(doc.ending.text)}</p>` : ''}
${spare(doc.spare)}
<section class="keep" aria-labelledby="keep"><h2 class="soft" id="keep">Worth keeping from ${doc.evening ? 'tonight' : 'this meeting'}</h2>
<div class="rules" aria-hidden="true">${'<i></i>'.repeat(KEEP_LINES)}</div></section>
${tail(doc)}
</main>`;
}

function aside({ haveReady, ifLate }: GuideDocument): string {
  const said = (head: string, text: string): string =>
    text ? `<h2>${head}</h2><p>${escapeHtml(text)}</p>` : '';
  const inside =
    said('Have ready', haveReady.join(', ')) + said('If running late', ifLate.join('; '));
  return inside ? `<aside class="aside" aria-label="Before you begin">${inside}</aside>` : '';
}

function part(part: DocPart, at: number): string {
  const id = `part-${at + 1}`;
  return `<section class="part" aria-labelledby="${id}">
<header class="parthead thick"><h2 id="${id}">${escapeHtml(part.name)}</h2><p class="aim">${part.aim ? inlineHtml(part.aim) : ''}</p><p class="span">${part.from} to ${part.to}</p></header>
<ol class="items">
${part.items.map(item).join('\n')}
</ol>
</section>`;
}

function item(item: DocItem): string {
  return `<li class="item"><span class="clock">${item.clock ?? ''}</span><span class="kind">${glyph(item.kind, KIND_NAMES[item.kind])}</span>
<div class="body"><div class="prompt words"${language(item)} dir="auto">${prompt(item)}</div>
${item.cues.map(cue).join('\n')}${item.note ? `\n<div class="cue"><b>Last time</b> ${escapeHtml(item.note)}</div>` : ''}${item.used ? `\n<p class="cue used">${glyph('caution', 'Note well')}${escapeHtml(item.used)}</p>` : ''}</div>
${side(item)}</li>`;
}

function side(item: DocItem): string {
  const { minutes, level } = item;
  const mark = markOf(item);
  const sorts = level ? `${levelSorts(level)}<span>${capital(level)}</span>` : '';
  return `<p class="side"><b>${minutes} min</b>${sorts}${mark ? `<span class="must">${mark}</span>` : ''}</p>`;
}

function prompt(item: DocItem): string {
  const name = item.title?.trim();
  const text = item.kind === 'quote' ? quoted(item.text) : item.text;
  if (!name) return inlineHtml(text);
  return `<p class="name">${escapeHtml(name)}</p>${blockHtml(text)}`;
}

export function language({ language }: { language?: string }): string {
  return language && /^[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*$/.test(language)
    ? ` lang="${language}"`
    : '';
}

/** The lead runs into the first paragraph, however many follow. */
function cue({ lead, text }: Cue): string {
  const said = lead ? `<b>${escapeHtml(lead)}</b> ` : '';
  const html = inlineHtml(text);
  const inside = html.startsWith('<p>') ? `<p>${said}${html.slice('<p>'.length)}` : said + html;
  return `<div class="cue" dir="auto">${inside}</div>`;
}

/** The box of usual cautions, ending with whose word is the last. */
export function cautions(texts: readonly string[]): string {
  if (texts.length === 0) return '';
  const lines = [...texts, DEFERENCE].map((text) => `<li>${escapeHtml(text)}</li>`);
  return `<section class="care" aria-labelledby="care"><h2 id="care">${glyph('caution')} Take care</h2><ul>${lines.join('')}</ul></section>`;
}

function spare(items: readonly DocItem[]): string {
  if (items.length === 0) return '';
  const lines = items.map(
    (one) =>
      `<li><span class="kind">${glyph(one.kind, KIND_NAMES[one.kind])}</span><div><div class="words"${language(one)} dir="auto">${prompt(one)}</div>${one.cues.map(cue).join('')}</div><p class="side"><b>${one.minutes} min</b></p></li>`,
  );
  return `<section class="spare" aria-labelledby="spare"><h2 class="soft" id="spare">Spare, if there is time</h2><ol>${lines.join('\n')}</ol></section>`;
}

function tail(doc: GuideDocument): string {
  const kinds = new Set(
    [...doc.parts.flatMap(({ items }) => items), ...doc.spare].map(({ kind }) => kind),
  );
  const key = (Object.keys(KIND_NAMES) as (EntryKind | 'free')[])
    .filter((kind) => kind !== 'free' || kinds.has('free'))
    .map((kind) => `<li>${glyph(kind)}${KIND_NAMES[kind]}</li>`);
  const sources =
    doc.sources.length === 0
      ? ''
      : doc.sourcesHead === 'Sources'
        ? `<p class="sources">Sources: ${doc.sources.map(inlineHtml).join('; ')}.</p>`
        : works({ head: doc.sourcesHead, list: doc.sources });
  return `<section class="tail" aria-labelledby="levels"><h2 class="soft" id="levels">Minutes by level</h2>
<dl class="bars">${bars(doc.levels)}</dl>
<ul class="key" aria-label="Key">${key.join('')}<li>${levelSorts('analyse')}level, first to sixth</li></ul>
${sources}</section>`;
}

/** Works that short citations stand for, each with its first line hanging out. */
export function works({ head, list }: { head: string; list: readonly string[] }): string {
  if (list.length === 0) return '';
  const lines = list.map((work) => `<p class="sources">${inlineHtml(work)}</p>`);
  return `<section class="works" aria-labelledby="works"><h2 class="soft" id="works">${escapeHtml(head)}</h2>${lines.join('\n')}</section>`;
}

/** Bars of one length unit: the longest falls just short of its line. */
function bars(levels: readonly { level: Level; minutes: number }[]): string {
  const most = Math.max(1, ...levels.map(({ minutes }) => minutes)) * 1.06;
  return levels
    .map(({ level, minutes }) => {
      const width = ((minutes / most) * 100).toFixed(1);
      return `<div><svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true" style="flex:0 0 100%"><path d="M0 3H100" stroke="#000" stroke-width="1.6"/><rect width="${width}" height="6"/></svg><dt>${capital(level)}</dt><dd>${minutes}</dd></div>`;
    })
    .join('');
}
