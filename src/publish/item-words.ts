/** What an item says to the leader, and apart from that what of it may be given to everybody. */
import { doneElsewhere, MINUTES_TO_SET } from '../journal/homework';
import type { Entry, GuideItem, Hazard } from '../journal/records';
import type { Cue, Given } from './model';
import { blockHtml, escapeMarkdown, splitTable } from './safe-text';

/** First words of a cue that leaders use as its name; they are set apart on the page. */
const LEADS =
  /^(Listen for|If it stalls|Have ready|Put beside it|Watch for|Look for|Take care|Board|Near|Quiet|Read|Tell|Show)\b:?\s+(?=\S)/;

/** Of those, what is done before anybody speaks. */
const FIRST = new Set(['Read', 'Tell', 'Show', 'Board', 'Quiet', 'Have ready']);

/**
 * Cues in the order they are needed: what to do, what to have, what to listen for, how to go on.
 * `given` is what the handout has of the item, so that the leader knows of a grid there. A citation
 * that is not `full` stands in brackets of its own.
 */
export function cuesOf(
  item: GuideItem,
  entry: Entry | undefined,
  cite: string | undefined,
  given: Given | undefined,
  full = true,
): Cue[] {
  const own = (item.cue ?? '')
    .split('\n')
    .filter((line) => line.trim())
    .map(cueOf);
  const cues = own.filter(({ lead }) => FIRST.has(lead));
  const after = own.filter(({ lead }) => !FIRST.has(lead));
  const add = (lead: string, text: string | undefined): void => {
    if (text?.trim()) cues.push({ lead, text: text.trim() });
  };
  if (!entry) {
    add('Due', dueOf(item, entry));
    return [...cues, ...after];
  }
  const { lesson } = entry;
  if (entry.kind === 'quote' && cite) add(full ? 'From' : '', full ? `${cite}.` : cite);
  add('Have ready', entry.materials?.map((one) => escapeMarkdown(one.trim())).join(', '));
  if (given?.as === 'activity' && given.space === 'grid') add('Handout', 'has a grid to fill in.');
  add('Object', lesson?.object);
  add('Aim', lesson?.objective);
  add('Beforehand', lesson?.preparation);
  add('Steps', numbered(lesson?.steps));
  add('Look for', numbered(lesson?.observations));
  add('Leads to', lesson?.idea);
  add('Due', dueOf(item, entry));
  add('Listen for', entry.answer);
  add('If it stalls', entry.probes?.map((probe) => probe.trim()).join(' '));
  cues.push(...after);
  if (cite && entry.kind !== 'quote') add('Source', full ? `${cite}.` : cite);
  return cues;
}

/** What the leader has marked it as, for the margin of the leader's copy. */
export function markOf({ must, ifTime }: { must: boolean; ifTime: boolean }): string | undefined {
  return must ? 'must stay' : ifTime ? 'if time allows' : undefined;
}

/** When an assignment is due: as this guide says, or else as its entry does. */
function dueOf(item: GuideItem, entry: Entry | undefined): string | undefined {
  return item.due?.trim() || entry?.lesson?.due?.trim() || undefined;
}

/** What asks for care in it, by its entry or, where that was removed, by itself. */
export const hazardsOf = (item: GuideItem, entry: Entry | undefined): Hazard[] =>
  (entry ?? item).cautions ?? [];

const titleOf = (item: GuideItem, entry: Entry | undefined): string | undefined =>
  (entry ?? item).title?.trim();

function cueOf(line: string): Cue {
  const text = line.trim();
  const lead = LEADS.exec(text);
  return lead ? { lead: lead[1] ?? '', text: text.slice(lead[0].length) } : { lead: '', text };
}

function numbered(steps: readonly string[] | undefined): string | undefined {
  if (!steps || steps.length < 2) return steps?.[0];
  return steps.map((step, at) => `${at + 1}. ${step.trim().replace(/\n/g, '\n   ')}`).join('\n');
}

/**
 * What of an item goes on the handout. Quotes, questions and assignments do. Of a lesson idea only a
 * grid to fill in: its text and its steps speak to the leader, and would tell what is to be
 * discovered. Notes and free items do not, but for copywork.
 */
export function givenOf(
  item: GuideItem,
  entry: Entry | undefined,
  text: string,
  cite: string | undefined,
  language: string | undefined,
): Given | undefined {
  const hazards = hazardsOf(item, entry);
  if (item.free === 'copywork' && text.trim()) {
    return {
      as: 'activity',
      title: 'To copy',
      text: `> ${text.trim().replace(/\n/g, '\n> ')}`,
      space: 'lines',
      hazards,
    };
  }
  if (item.free) return undefined;
  const kind = entry?.kind ?? item.kind;
  if (kind === 'quote') return { as: 'passage', text, cite, language };
  if (kind === 'question') return { as: 'question', text };
  if (kind === 'assignment') return assignment(item, entry, text);
  return kind === 'lesson' ? lesson(item, entry, text) : undefined;
}

function assignment(item: GuideItem, entry: Entry | undefined, text: string): Given {
  const hazards = hazardsOf(item, entry);
  const due = dueOf(item, entry);
  if (due) {
    const said = `Due ${escapeMarkdown(due.replace(/\.$/, ''))}.`;
    const joint = splitTable(text).table ? '\n\n' : ' ';
    return { as: 'until', text: `${text.trim()}${joint}${said}`, hazards };
  }
  const { table } = splitTable(text);
  const isSet = doneElsewhere(entry ?? { kind: 'assignment' }) && item.minutes <= MINUTES_TO_SET;
  if (isSet && !table) return { as: 'until', text: text.trim(), hazards };
  const title = titleOf(item, entry) || 'To do';
  return { as: 'activity', title, text, space: table ? 'grid' : 'lines', hazards };
}

function lesson(item: GuideItem, entry: Entry | undefined, text: string): Given | undefined {
  const hazards = hazardsOf(item, entry);
  const title = titleOf(item, entry) || 'To try';
  const { table } = splitTable(text);
  if (table === undefined || !isToFill(table)) return undefined;
  return { as: 'activity', title, text: table, space: 'grid', hazards };
}

/** Whether a table has a cell left to write in, empty or ruled with "____"; a table filled in may be what is to be found out. */
const isToFill = (table: string): boolean => /<td[^>]*>[_.…]*<\/td>/.test(blockHtml(table));
