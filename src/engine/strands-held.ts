/** Strands from ask to ask: found again after edits without shuffling, with the names, dyes and places a reader has given them. */
import type { HeadingId } from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { dyesFor } from '../weave/dyes';
import {
  atOnce,
  strandSteps,
  tryStrands,
  withMoved,
  type Strand,
  type Strands,
  type StrandSteps,
  type Tried,
} from '../weave/strands';
import type { Core } from './core';
import { strandsSaid, type StrandsSaid } from './strands-kept';
import type { KeptStrands, StrandShown, StrandsView } from './weave-answers';

/** The seed of a first run; any fixed number repeats the same strands on the same journal. */
export const STRANDS_SEED = 1706;
/** From few strands to many. */
const RESOLUTIONS = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 1, 1.5, 2] as const;
/** A first run takes the step whose number of strands is nearest the dyes there are, among those about as good as the best. */
const WANTED = 5;
const ABOUT_AS_GOOD = 0.88;
/** Past this many entries a run is a matter of seconds: few steps are tried, and a run stands for a while. */
const QUICK = 5000;
const FEW_STEPS: readonly number[] = [0.2, 1];
const FIRST_STEPS: readonly number[] = [0.1, 0.2, 0.3, 0.5, 0.7, 1];

/** A resolution nobody chose is chosen anew in a later sitting when the journal has grown by this much. */
const GROWN = 2;

interface Run {
  edits: number;
  resolution: number;
  /** Entries when the resolution was last chosen. */
  sized: number;
  /** As they were found, whatever the reader has put elsewhere since. */
  found: Strands;
  /** With headings where the reader has put them, and the text of where that was. */
  shown?: { moved: string; rows: Strand[] };
  /** As they were last told. */
  dyes?: Record<string, number>;
}

const runs = new WeakMap<Core, Run>();

/** The strands as they now are. Within one sitting each run begins from the last, and the first from what the screen has kept. */
export function strandsNow(core: Core, kept: KeptStrands = {}): StrandsView {
  const steps = strandsToFind(core, kept);
  if (steps) atOnce(steps);
  return view(core, runs.get(core)!, kept, strandsSaid(core.journal));
}

/** The steps to strands that hold, where those of the last run do not: after them {@link strandsNow} answers at once. */
export function strandsToFind(core: Core, kept: KeptStrands = {}): StrandSteps<void> | undefined {
  const { weaveIndex, journal } = core;
  const large = journal.tables.entries.size > QUICK;
  const said = strandsSaid(journal);
  const run = runs.get(core);
  const held = run || !outgrown(core, kept) ? kept.resolution : undefined;
  const resolution = held ?? run?.resolution ?? said.resolution;
  const behind = run ? weaveIndex.edits - run.edits : 0;
  const stale = behind > (large ? Math.max(50, journal.tables.entries.size / 200) : 0);
  if (run && !stale && run.resolution === resolution) return undefined;
  return finding(core, kept, { said, last: run, resolution });
}

function* finding(core: Core, kept: KeptStrands, how: How): StrandSteps<void> {
  const run = yield* found(core, kept, how);
  const dyes = runs.get(core)?.dyes;
  if (dyes) run.dyes = dyes;
  runs.set(core, run);
}

const outgrown = ({ journal }: Core, { last, chosen, sized = 0 }: KeptStrands): boolean =>
  Boolean(last?.length) && !chosen && journal.tables.entries.size > GROWN * sized;

/** What a run begins from. */
interface How {
  said: StrandsSaid;
  last: Run | undefined;
  resolution: number | undefined;
}

function* found(core: Core, kept: KeptStrands, how: How): StrandSteps<Run> {
  const { weaveIndex } = core;
  const { said, last, resolution } = how;
  const previous = last?.found ?? remembered(kept);
  const at = (step: number, afresh: boolean, tried?: Tried): StrandSteps<Strands> =>
    strandSteps(weaveIndex, {
      seed: STRANDS_SEED,
      resolution: step,
      known: said.known,
      afresh,
      ...(tried ? { tried } : {}),
      ...(previous ? { previous } : {}),
    });
  const edits = weaveIndex.edits;
  const entries = core.journal.tables.entries.size;
  if (resolution !== undefined) {
    const afresh = last !== undefined && last.resolution !== resolution;
    const sized = last?.sized ?? kept.sized ?? entries;
    return { edits, resolution, sized, found: yield* at(resolution, afresh) };
  }
  const large = entries > QUICK;
  const steps = large ? FEW_STEPS : FIRST_STEPS;
  const tried = (yield* tryStrands(weaveIndex, STRANDS_SEED, steps)).map((found, which) => ({
    step: steps[which]!,
    found,
  }));
  const best = Math.max(...tried.map((one) => one.found.modularity));
  const good = tried.filter((one) => one.found.modularity >= best * ABOUT_AS_GOOD);
  const off = (one: { found: Tried }): number => Math.abs(one.found.strands - WANTED);
  const [chosen] = good.sort(
    (a, b) => off(a) - off(b) || b.found.modularity - a.found.modularity || a.step - b.step,
  );
  const { step, found: first } = chosen!;
  return { edits, resolution: step, sized: entries, found: yield* at(step, true, first) };
}

/** What was kept of the last sitting, as a run to go on from. */
function remembered(kept: KeptStrands): Strands | undefined {
  if (!kept.last?.length) return undefined;
  return {
    modularity: 0,
    strands: kept.last.map(({ id, headings }) => ({
      id,
      name: '',
      words: [],
      headings,
      entries: [],
      cohesion: 0,
    })),
  };
}

/** The strands of a run with headings where the reader has put them. */
function shownOf(core: Core, run: Run, { placed }: StrandsSaid): Strand[] {
  const moved = JSON.stringify([...placed].sort());
  if (run.shown?.moved !== moved) {
    run.shown = { moved, rows: withMoved(core.weaveIndex, run.found.strands, placed) };
  }
  return run.shown.rows;
}

function view(core: Core, run: Run, kept: KeptStrands, said: StrandsSaid): StrandsView {
  const rows = shownOf(core, run, said);
  const { strands: found, modularity } = run.found;
  const ids = rows.map(({ id }) => id);
  const remembered = kept.dyes ?? run.dyes ?? {};
  const dyes = dyesFor(ids, dyesHeld(ids, remembered, said.dyes), said.forward);
  // Dyes of strands that are not there now are remembered for when they come again.
  run.dyes = { ...remembered, ...Object.fromEntries(dyes) };
  let inInk = 0;
  const shown = rows.map((row) => {
    const dye = dyes.get(row.id);
    const placed = row.headings.filter((id) => said.placed.get(id) === row.id);
    return strandShown(core, row, said.names.get(row.id), placed, dye, dye ?? inInk++);
  });
  // In the order of their dyes, so that a strand does not move on the cloth when another grows past it.
  shown.sort((a, b) => (a.dye ?? Infinity) - (b.dye ?? Infinity) || b.entries - a.entries);
  return {
    strands: shown,
    modularity,
    resolution: run.resolution,
    steps: [...RESOLUTIONS],
    behind: core.weaveIndex.edits - run.edits,
    kept: {
      resolution: run.resolution,
      sized: run.sized,
      ...(kept.chosen ? { chosen: true } : {}),
      last: found.map(({ id, headings }) => ({ id, headings })),
      dyes: run.dyes,
    },
  };
}

/** Dyes of the journal, and those remembered besides that are not in use by it. */
function dyesHeld(
  ids: readonly string[],
  remembered: Record<string, number>,
  said: Record<string, number>,
): Record<string, number> {
  const taken = new Set(ids.flatMap((id) => (Object.hasOwn(said, id) ? said[id] : [])));
  const free = Object.entries(remembered).filter(([, dye]) => !taken.has(dye));
  return { ...Object.fromEntries(free), ...said };
}

function strandShown(
  { journal }: Core,
  row: Strand,
  own: string | undefined,
  placed: HeadingId[],
  dye: number | undefined,
  line: number,
): StrandShown {
  const of = (kind: 'theme' | 'book' | 'person'): { id: HeadingId; name: string }[] =>
    row.headings.flatMap((id) => {
      const heading = journal.tables.headings.get(id);
      return heading?.kind === kind ? [{ id, name: heading.name }] : [];
    });
  return {
    id: row.id,
    name: own ?? row.name,
    ...(own === undefined ? {} : { found: row.name }),
    words: row.words,
    themes: of('theme').map((theme) => ({
      ...theme,
      entries: entriesTiedTo(journal, theme.id).size,
    })),
    books: of('book'),
    people: of('person'),
    central: row.headings,
    placed,
    entries: row.entries.length,
    cohesion: row.cohesion,
    ...(dye === undefined ? {} : { dye }),
    line,
  };
}

/** The members of a strand as it was last shown, or undefined where there is none of that id. */
export function strandMembers(core: Core, id: string): Strand | undefined {
  const run = runs.get(core);
  return (run?.shown?.rows ?? run?.found.strands)?.find((strand) => strand.id === id);
}
