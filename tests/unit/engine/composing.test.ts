import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Engine } from '../../../src/engine/engine';
import { standing } from '../../../src/engine/composing';
import { shortSaid } from '../../../src/engine/gap-said';
import { guideView } from '../../../src/engine/guide-view';
import { publishGuide } from '../../../src/engine/publishing';
import { suggestions } from '../../../src/engine/suggesting';
import { planProblem, type PlanAsk } from '../../../src/engine/planning';
import { planningDesk } from '../../../src/engine/planning-desk-over';
import { readJournalFile } from '../../../src/journal/file';
import { doneElsewhere } from '../../../src/journal/homework';
import { putRow } from '../../../src/journal/make-edits';
import type { CircleId, EntryId, Guide, GuideItem } from '../../../src/journal/records';
import { worthOf } from '../../../src/plan/compose';

const text = readFileSync('demo-data/harbour-lane.bookweft.json', 'utf8');

function engine(): Engine {
  const read = readJournalFile(text);
  if (!read.ok) throw new Error(read.message);
  let made = 0;
  return new Engine(read.journal, {
    now: () => new Date('2026-11-25T12:00:00Z'),
    newId: () => `made-${(made += 1)}`,
  });
}

const ASK: PlanAsk = { focus: { words: ['home'], headings: [], entries: [] }, minutes: 60 };

const altered = (guide: Guide, alter: (parts: Guide['parts']) => void): Guide => {
  const copy = structuredClone(guide);
  alter(copy.parts);
  return copy;
};

describe('a guide from entries put by', () => {
  const whole = engine();
  const here = [...whole.journal.tables.entries.keys()][0] as EntryId;
  const gone = 'gone' as EntryId;
  const from = (...entries: EntryId[]): PlanAsk => ({
    focus: { words: ['home'], headings: [], entries },
  });
  /** Planning over an engine, and over another once everything has come from the store. */
  const planning = (first: Engine, then: Engine): ReturnType<typeof planningDesk> => {
    let core = first;
    const refused = async (): Promise<never> => {
      throw new Error('nothing is changed here');
    };
    const part = {
      core: () => core,
      apply: refused,
      change: refused,
      loaded: async () => void (core = then),
    };
    return planningDesk(part, async () => []);
  };

  test('names none that the journal no longer has, so that it can be kept', () => {
    const { guide } = whole.compose(from(here, gone));
    expect(guide.focus.entries).toEqual([here]);
    expect(whole.apply(putRow(whole.journal, 'guides', guide)).ok).toBe(true);
  });

  test('waits for those that still come from the store, and for nothing else', async () => {
    const some = engine();
    some.journal.tables.entries.delete(here);
    const { guide } = await planning(some, whole).compose(from(here));
    expect(guide.focus.entries).toEqual([here]);
    expect(guide.parts.flatMap(({ items }) => items).map(({ entry }) => entry)).toContain(here);
    const at = planning(some, whole).compose({ ...ASK, title: 'At once' });
    expect((await at).guide.title).toBe('At once');
  });
});

describe('composing a guide again', () => {
  const core = engine();
  const { guide } = core.compose(ASK);

  test('gives the same guide for the same purpose', () => {
    expect(core.compose({ ...ASK, again: guide }).guide.parts).toEqual(guide.parts);
  });

  test('tells the cautions of words whose entry is gone', () => {
    const left: GuideItem = {
      free: 'other',
      text: 'Pour the wax.',
      kind: 'assignment',
      cautions: ['heat'],
      minutes: 3,
      must: false,
      fixed: true,
    };
    const hot = (from: Guide): boolean =>
      core.compose({ ...ASK, again: from }).answer.cautions.some((one) => /hot/.test(one));
    expect(hot(guide)).toBe(false);
    expect(hot(altered(guide, (parts) => void parts[0]!.items.unshift(left)))).toBe(true);
  });

  test('keeps breaks, talk in pairs and own words where they were put', () => {
    const pause: GuideItem = { free: 'break', text: 'Tea', minutes: 6, must: false, fixed: true };
    const own: GuideItem = {
      free: 'other',
      text: 'What did you bring with you?',
      kind: 'question',
      level: 'remember',
      minutes: 3,
      must: false,
      fixed: true,
    };
    const set = altered(guide, (parts) => {
      parts[0]!.items.unshift(own);
      parts[1]!.items.splice(1, 0, pause);
    });
    const again = core.compose({ ...ASK, again: set });
    expect(again.guide.parts[0]!.items[0]).toEqual(own);
    expect(again.guide.parts[1]!.items[1]).toEqual(pause);
    expect(again.answer.parts[1]!.items[1]).toMatchObject({ text: 'Tea', minutes: 6 });
    expect(again.answer.planned).toBeLessThanOrEqual(60);
  });

  test('keeps the wording, level, cue and minutes set by hand', () => {
    const set = altered(guide, (parts) => {
      Object.assign(parts[1]!.items[0]!, {
        text: 'Put another way?',
        level: 'create',
        cue: 'Slowly',
        minutes: 11,
        fixed: true,
      });
    });
    const item = core.compose({ ...ASK, again: set }).guide.parts[1]!.items[0];
    expect(item).toEqual(set.parts[1]!.items[0]);
  });

  test('leaves out what was put aside, and holds spares ready without placing them', () => {
    const [aside, spare] = guide.parts.flatMap((part) => part.items).map(({ entry }) => entry!);
    const set: Guide = {
      ...guide,
      refused: [aside!],
      spare: [{ entry: spare!, minutes: 5, must: false, fixed: true }],
    };
    const again = core.compose({ ...ASK, again: set }).guide;
    const placed = again.parts.flatMap((part) => part.items.map(({ entry }) => entry));
    expect(placed).not.toContain(aside);
    expect(placed).not.toContain(spare);
    expect(again.spare![0]).toMatchObject({ entry: spare, fixed: true });
    expect(again.spare!.map(({ entry }) => entry)).not.toContain(aside);
  });

  test('keeps parts that were renamed and their shares, and what stood in them', () => {
    const parts = guide.parts.map(({ name, minutes }, at) => ({
      name: at === 0 ? 'Settling in' : name,
      minutes: at === 0 ? 9 : minutes,
    }));
    const again = core.compose({ ...ASK, again: guide, parts }).guide;
    expect(again.parts.map(({ name }) => name)[0]).toBe('Settling in');
    expect(again.parts[0]!.minutes).toBe(9);
  });

  test('what closed a discussion closes the lesson made of it', () => {
    const set = altered(guide, (parts) => {
      parts.at(-1)!.items.push({ free: 'other', text: 'Thanks', minutes: 1, must: false });
    });
    const { guide: lesson } = core.compose({ ...ASK, shape: 'lesson', again: set });
    expect(lesson.parts).toHaveLength(5);
    expect(lesson.parts[4]!.items.some((item) => item.text === 'Thanks')).toBe(true);
    expect(
      lesson.parts.flatMap(({ items }) => items).filter(({ text: said }) => said === 'Thanks'),
    ).toHaveLength(1);
  });
});

describe('how near the best a guide stands', () => {
  const core = engine();
  const { guide, answer } = core.compose(ASK);

  test('a guide just composed is worth what it was said to be', () => {
    const { request, candidates, plan } = planProblem(core, ASK);
    const parts = plan.parts.map(({ items }) => items.map(({ id }) => id));
    expect(worthOf(request, candidates, parts)).toBeCloseTo(plan.objective.value, 9);
    const now = standing(core, ASK, guide);
    expect(now.value).toBeCloseTo(answer.objective.value, 9);
    expect(now.gap).toBeCloseTo(answer.objective.gap, 6);
  });

  test('taking something out makes it worth less, by what is told', () => {
    const without = altered(guide, (parts) => parts[1]!.items.pop());
    const now = standing(core, ASK, without);
    expect(now.value).toBeLessThan(answer.objective.value);
    expect(now.gap).toBeGreaterThan(0);
    expect(now.bound).toBeGreaterThanOrEqual(answer.objective.value - 1e-9);
  });

  test('an unknown entry in a guide does not disturb the reckoning', () => {
    const odd = altered(guide, (parts) =>
      parts[0]!.items.push({ entry: 'gone' as EntryId, minutes: 3, must: false, fixed: true }),
    );
    expect(standing(core, ASK, odd).gap).toBeGreaterThanOrEqual(0);
    expect(core.compose({ ...ASK, again: odd }).answer.planned).toBeGreaterThan(0);
  });
});

describe('work to do at home', () => {
  const core = engine();
  const { entries, headings } = core.journal.tables;
  const homework = [...entries.values()].filter(doneElsewhere);
  const themes = [...headings.values()].filter(({ kind }) => kind === 'theme').slice(0, 12);
  const placed = (guide: Guide): { part: string; item: GuideItem }[] =>
    guide.parts.flatMap(({ name, items }) =>
      items.flatMap((item) =>
        homework.some(({ id }) => id === item.entry) ? [{ part: name, item }] : [],
      ),
    );

  test('is nothing a discussion talks about, and a lesson sets it at its end', () => {
    let set = 0;
    for (const { id } of themes) {
      const focus = { words: [], headings: [{ heading: id }], entries: [] };
      const talk = core.compose({ focus, minutes: 90 }).guide;
      expect(placed(talk)).toEqual([]);
      const lesson = core.compose({ focus, minutes: 60, shape: 'lesson' }).guide;
      for (const { part } of placed(lesson)) expect(part).toBe('Closing');
      set += placed(lesson).length;
    }
    expect(homework.length).toBeGreaterThan(20);
    expect(set).toBeGreaterThan(3);
  });

  test('stands at the end of a discussion where the leader chose it', () => {
    const [one] = homework;
    const focus = { words: ['home'], headings: [], entries: [one!.id] };
    const [found] = placed(core.compose({ focus, minutes: 60 }).guide);
    expect(found).toMatchObject({ part: 'Closing', item: { minutes: 3, must: true } });
  });
});

test('a handout with nothing on it says so', async () => {
  const core = engine();
  const { guide } = core.compose(ASK);
  const how = { copy: 'handout', format: 'text', paper: 'A4' } as const;
  const none = async (): Promise<never[]> => [];
  expect((await publishGuide(core, guide, how, none)).said).toBeUndefined();
  const told = guide.parts.map((part) => ({
    ...part,
    items: [{ free: 'break' as const, text: 'Tea', minutes: 5, must: false }],
  }));
  const bare = { ...guide, parts: told };
  expect((await publishGuide(core, bare, how, none)).said).toMatch(
    /^Nothing in this guide goes on/,
  );
  const leader = { ...how, copy: 'leader' as const };
  expect((await publishGuide(core, bare, leader, none)).said).toBeUndefined();
});

test('the meeting a guide was for is no earlier use of what is in it, until it is planned for a later day', async () => {
  const core = engine();
  const [circle] = [...core.journal.tables.circles.values()].map(({ id }) => id);
  const { guide } = core.compose({ ...ASK, circle, starts: '2026-12-01T19:00' });
  const asked = (one: Guide): number =>
    guideView(core, one).parts.flatMap(({ items }) => items.filter(({ asked }) => asked)).length;
  const text = async (one: Guide): Promise<string> => {
    const how = { copy: 'leader', format: 'text', paper: 'A4' } as const;
    const { bytes } = await publishGuide(core, one, how, async () => []);
    return new TextDecoder().decode(bytes);
  };
  const before = asked(guide);
  core.apply(putRow(core.journal, 'guides', guide));
  const kept = core.apply(core.met({ guide, on: '2026-12-01', circle: circle! }).edit);
  expect(kept).toMatchObject({ ok: true });
  expect(asked(guide)).toBe(before);
  expect(await text(guide)).not.toContain('1 Dec 2026');
  const again = { ...guide, starts: '2027-01-12T19:00' };
  expect(asked(again)).toBe(again.parts.flatMap(({ items }) => items).length);
  expect(await text(again)).toContain('Asked of this circle 1 Dec 2026');
});

describe('a guide that has been met', () => {
  const core = engine();
  const circle = [...core.journal.tables.circles.keys()][1] as CircleId;
  const ask: PlanAsk = { ...ASK, circle, starts: '2026-12-03T19:00' };
  const { guide } = core.compose(ask);
  const entriesOf = (one: Guide): EntryId[] =>
    one.parts.flatMap((part) => part.items.flatMap(({ entry }) => entry ?? []));
  const again: PlanAsk = {
    ...ask,
    parts: guide.parts.map(({ name, minutes }) => ({ name, minutes })),
    again: guide,
  };
  expect(core.apply(putRow(core.journal, 'guides', guide)).ok).toBe(true);
  const before = standing(core, again, guide);
  expect(core.apply(core.met({ guide, on: '2026-12-03', circle }).edit).ok).toBe(true);

  test('is composed again as it was, its own meeting being no earlier use', () => {
    expect(entriesOf(core.compose(again).guide)).toEqual(entriesOf(guide));
    expect(standing(core, again, guide)).toEqual(before);
  });

  test('is composed of other things for a later day', () => {
    const later = { ...again, starts: '2026-12-17T19:00' };
    const was = new Set(entriesOf(guide));
    expect(entriesOf(core.compose(later).guide).filter((id) => was.has(id))).toEqual([]);
  });

  test('has what it had suggested for it again as fresh as before', () => {
    const [first] = entriesOf(guide);
    const without = {
      ...guide,
      parts: guide.parts.map((part) => ({
        ...part,
        items: part.items.filter(({ entry }) => entry !== first),
      })),
    };
    const offered = suggestions(core, { plan: again, guide: without, limit: 600 });
    const found = offered.find(({ entry }) => entry === first);
    expect(found).toMatchObject({ rested: true, fresh: 'Never used' });
  });
});

describe('a suggestion for a level that has few minutes', () => {
  test('says so in words of the screen', () => {
    const core = engine();
    const { guide } = core.compose(ASK);
    const bare = { ...guide, parts: guide.parts.map((part) => ({ ...part, items: [] })) };
    const reasons = suggestions(core, { plan: ASK, guide: bare, limit: 600 }).flatMap(
      (each) => each.reasons,
    );
    expect(reasons).toContain('gives minutes to Analyse, which has few');
    expect(reasons.join()).not.toContain('thin');
  });
});

describe('a guide that is short because nothing else is near enough', () => {
  const core = engine();
  const circle = [...core.journal.tables.circles.values()].find(
    ({ name }) => name === 'Harbour Lane Reading Circle',
  )!.id;
  const ask: PlanAsk = {
    focus: { words: ['Who is allowed to learn?'], headings: [], entries: [] },
    minutes: 60,
    circle,
  };

  test('is told so, with what to do about it', () => {
    const { guide } = core.compose(ask);
    const { gap } = standing(core, ask, guide);
    const { remarks } = guideView(core, guide);
    expect(remarks.map(({ code }) => code)).toContain('under');
    expect(shortSaid(gap, remarks)).toMatch(/nothing else is near enough.*suggestions/);
  });

  test('one that fills its time, or could be better, is not', () => {
    expect(shortSaid(0, [{ code: 'quoted' }])).toBeUndefined();
    expect(shortSaid(0.2, [{ code: 'under' }])).toBeUndefined();
  });
});
