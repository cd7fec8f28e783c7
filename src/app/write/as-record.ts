/** What is written in the sheet as the record it becomes. */
import type { EntryDraft } from '../../engine/desk';
import type { Entry, HeadingId, Tie } from '../../journal/records';
import { withoutDoubles } from '../../journal/ties';
import type { Draft } from './drafts';

const lines = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);
const optional = <T>(value: T | undefined | '', name: string): Record<string, T> =>
  value === undefined || value === '' ? {} : { [name]: value as T };

/** The ties as they would be kept: the first book has the place. */
export function plainTies({
  ties,
  page,
  chapter,
}: Pick<Draft, 'ties' | 'page' | 'chapter'>): Tie[] {
  const book = ties.find(({ kind }) => kind === 'book');
  const place = {
    ...book?.place,
    ...optional(page.trim(), 'page'),
    ...optional(chapter.trim(), 'chapter'),
  };
  if (!page.trim()) delete place.page;
  if (!chapter.trim()) delete place.chapter;
  const plain = ties.map((named): Tie => {
    const { name: _name, kind: _kind, ...tie } = named;
    if (named !== book) return tie;
    const { place: _place, ...rest } = tie;
    return Object.keys(place).length > 0 ? { ...rest, place } : rest;
  });
  return withoutDoubles(plain);
}

/** The record as it would be kept. Unknown and untouched fields of an altered entry stay. */
export function asRecord(
  written: Draft,
  original: Entry | undefined,
  declined: readonly HeadingId[],
): EntryDraft {
  const minutes = Number(written.minutes);
  const {
    objective: _ob,
    preparation: _pr,
    steps: _st,
    due: _du,
    object: _oj,
    observations: _os,
    idea: _id,
    ...lessonKept
  } = original?.lesson ?? {};
  const lesson = {
    ...lessonKept,
    ...optional(written.objective.trim(), 'objective'),
    ...optional(written.preparation?.trim(), 'preparation'),
    ...(lines(written.steps ?? '').length > 0 ? { steps: lines(written.steps ?? '') } : {}),
    ...optional(written.due?.trim(), 'due'),
    ...optional(written.object.trim(), 'object'),
    ...(lines(written.observations).length > 0
      ? { observations: lines(written.observations) }
      : {}),
    ...optional(written.idea.trim(), 'idea'),
  };
  const { note: _n, ...sourceKept } = original?.source ?? {};
  const source = { ...sourceKept, ...optional(written.source.trim(), 'note') };
  const {
    title: _t,
    written: _w,
    level: _l,
    levelBy: _b,
    minutes: _m,
    answer: _a,
    probes: _p,
    ...rest
  } = original ?? ({} as Partial<Entry>);
  const {
    id: _i,
    added: _ad,
    changed: _ch,
    materials: _ma,
    cautions: _c,
    ages: _ag,
    lesson: _le,
    picture: _pi,
    source: _so,
    ...kept
  } = rest;
  return {
    ...kept,
    ...optional(written.id, 'id'),
    ...(original ? { base: original } : {}),
    ...(declined.length > 0 ? { declined: [...declined] } : {}),
    kind: written.kind,
    text: written.text.trim(),
    ties: plainTies(written),
    ...optional(written.title.trim(), 'title'),
    ...optional(written.written.trim(), 'written'),
    ...(written.level
      ? { level: written.level, levelBy: written.levelByHand ? 'reader' : 'proposed' }
      : {}),
    ...(written.minutes.trim() && Number.isFinite(minutes) && minutes > 0 ? { minutes } : {}),
    ...optional(written.answer.trim(), 'answer'),
    ...(lines(written.probes).length > 0 ? { probes: lines(written.probes) } : {}),
    ...(lines(written.materials).length > 0 ? { materials: lines(written.materials) } : {}),
    ...(written.cautions.length > 0 ? { cautions: [...written.cautions] } : {}),
    ...optional(written.ages.trim(), 'ages'),
    ...(Object.keys(lesson).length > 0 ? { lesson } : {}),
    ...(written.picture ? { picture: written.picture } : {}),
    ...(Object.keys(source).length > 0 ? { source } : {}),
  } as EntryDraft;
}
