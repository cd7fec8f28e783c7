/** What stands around a heading, an entry or several: neighbours by shared entries and ties, proposed ones too, as nodes and links. */
import {
  ENTRY_KINDS,
  type Entry,
  type EntryId,
  type Heading,
  type HeadingId,
  type Tie,
} from '../journal/records';
import { entriesTiedTo } from '../journal/uses';
import { ringPlaces } from '../weave/rings';
import { proposeFor, proposeHeadingsFor } from '../weave/tied';
import { thingSaid } from './chains';
import type { Core } from './core';
import { relationsOf } from './heading-relations';
import { strandsNow } from './strands-held';
import type { AroundAsk, AroundLink, AroundNode, AroundView, ThingSaid } from './weave-answers';

const USUAL_EACH = 12;
/** A map of more is a tangle; nodes past this are told as a number. */
const MOST_NODES = 500;
const MOST_PROPOSED = 3;
/** Fewer shared entries between two neighbours are not drawn. */
const LEAST_CROSS = 2;
/** Lines a node has to others than what it hangs on. */
const MOST_CROSS = 2;

interface Neighbour {
  id: string;
  shared: number;
  /** For choosing: what is shared, for the size of the other. */
  worth: number;
  says: string;
  proposed?: boolean;
}

const entriesSaid = (count: number): string => `${count} ${count === 1 ? 'entry' : 'entries'}`;

export function aroundView(core: Core, ask: AroundAsk): AroundView {
  const look = new Look(core, ask);
  const nodes = new Map<string, AroundNode>();
  const links = new Map<string, AroundLink>();
  const more: Record<string, number> = {};
  const pruned = new Set(ask.pruned);
  const put = (id: string, shared: number, step: number, by?: string): boolean => {
    const thing = nodes.has(id) || nodes.size >= MOST_NODES ? undefined : thingSaid(core, id);
    if (!thing) return nodes.has(id);
    nodes.set(id, look.node(thing, shared, step, by));
    return true;
  };
  for (const root of ask.roots) put(root, 0, 0);
  for (const id of [...ask.roots, ...(ask.opened ?? [])]) {
    const from = nodes.get(id);
    if (!from) continue;
    const around = look.around(id).filter((one) => !pruned.has(one.id));
    const shown = look.chosen(around, nodes);
    more[id] = around.length - shown.length;
    for (const one of shown) {
      if (!put(one.id, one.shared, from.step + 1, id)) continue;
      link(links, id, one);
    }
  }
  look.crossLinks(nodes, links);
  const places = ringPlaces([...nodes.values()]);
  for (const node of nodes.values()) Object.assign(node, places.get(node.id));
  return { nodes: [...nodes.values()], links: [...links.values()], more };
}

function link(links: Map<string, AroundLink>, from: string, one: Neighbour): void {
  const key = from < one.id ? `${from} ${one.id}` : `${one.id} ${from}`;
  if (links.has(key)) return;
  const weight = Math.max(1, one.shared);
  const row: AroundLink = { from, to: one.id, weight, says: one.says };
  if (one.proposed) row.proposed = true;
  links.set(key, row);
}

/** The journal as one asking wants it looked at. */
class Look {
  readonly #kinds: ReadonlySet<string> | undefined;
  readonly #roles: ReadonlySet<string> | undefined;
  readonly #strands: ReadonlySet<string> | undefined;
  readonly #strandOf: ReadonlyMap<string, string>;
  readonly #each: number;

  constructor(
    readonly core: Core,
    readonly ask: AroundAsk,
  ) {
    const set = (list: readonly string[] | undefined): Set<string> | undefined =>
      list && new Set(list);
    this.#kinds = set(ask.kinds);
    this.#roles = set(ask.roles);
    this.#strands = ask.strands?.length ? set(ask.strands) : undefined;
    this.#each = ask.each ?? USUAL_EACH;
    this.#strandOf = new Map(
      strandsNow(core, ask.kept).strands.flatMap(({ id, themes, books, people }) =>
        [...themes, ...books, ...people].map((heading) => [heading.id as string, id] as const),
      ),
    );
  }

  node(thing: ThingSaid, shared: number, step: number, by: string | undefined): AroundNode {
    const { journal } = this.core;
    const count =
      thing.type === 'heading'
        ? entriesTiedTo(journal, thing.id as HeadingId).size
        : new Set(journal.tables.entries.get(thing.id as EntryId)?.ties.map((tie) => tie.heading))
            .size;
    const strand = this.#strandOf.get(thing.id);
    return {
      ...thing,
      x: 0,
      y: 0,
      count,
      shared,
      step,
      ...(by === undefined ? {} : { by }),
      ...(strand === undefined ? {} : { strand }),
    };
  }

  /** Neighbours of a node, the nearest first; what a filter leaves out is not among them. */
  around(id: string): Neighbour[] {
    const { headings, entries } = this.core.journal.tables;
    const heading = headings.get(id as HeadingId);
    if (heading) return this.#aroundHeading(heading);
    const entry = entries.get(id as EntryId);
    return entry ? this.#aroundEntry(entry) : [];
  }

  /** Those that are shown when a node is opened: headings first, then entries, and a few that are proposed. */
  chosen(
    around: readonly Neighbour[],
    shown: { has: (id: string) => boolean },
  ): readonly Neighbour[] {
    const { entries } = this.core.journal.tables;
    const fresh = around.filter(({ id }) => !shown.has(id));
    const tied = fresh.filter((one) => !one.proposed);
    const take = (list: Neighbour[], most: number): Neighbour[] => list.slice(0, most);
    const isEntry = ({ id }: Neighbour): boolean => entries.has(id as EntryId);
    return [
      ...around.filter(({ id }) => shown.has(id)),
      ...take(
        tied.filter((one) => !isEntry(one)),
        this.#each,
      ),
      ...take(tied.filter(isEntry), this.#each),
      ...take(
        fresh.filter((one) => one.proposed),
        MOST_PROPOSED,
      ),
    ];
  }

  #ties(entry: Entry): Tie[] {
    return this.#roles ? entry.ties.filter(({ role }) => this.#roles!.has(role)) : entry.ties;
  }

  #wants({ kind, id }: { kind: string; id: string }): boolean {
    if (this.#kinds && !this.#kinds.has(kind)) return false;
    if (!this.#strands || (ENTRY_KINDS as readonly string[]).includes(kind)) return true;
    return this.#strands.has(this.#strandOf.get(id) ?? '');
  }

  #within(id: EntryId): boolean {
    const { span } = this.ask;
    return (!span?.from && !span?.to) || this.core.weaveIndex.cloth.holds(id, span);
  }

  #entriesOf(heading: HeadingId): Entry[] {
    const { entries } = this.core.journal.tables;
    return [...entriesTiedTo(this.core.journal, heading)].flatMap((id) => {
      const entry = entries.get(id);
      const held = entry && this.#within(id);
      return held && this.#ties(entry).some((tie) => tie.heading === heading) ? [entry] : [];
    });
  }

  #aroundHeading(heading: Heading): Neighbour[] {
    const { headings } = this.core.journal.tables;
    const mine = this.#entriesOf(heading.id);
    const shared = new Map<HeadingId, number>();
    for (const entry of mine) {
      for (const id of new Set(this.#ties(entry).map((tie) => tie.heading))) {
        if (id !== heading.id) shared.set(id, (shared.get(id) ?? 0) + 1);
      }
    }
    const relations = relationsOf(this.core.journal, heading);
    const rows = [...new Set([...shared.keys(), ...relations.keys()])].flatMap((id) => {
      const other = headings.get(id);
      if (!other || !this.#wants(other)) return [];
      const count = shared.get(id) ?? 0;
      const size = Math.max(1, entriesTiedTo(this.core.journal, id).size);
      const related = relations.get(id);
      const says = [related, count > 0 ? `${entriesSaid(count)} in common` : undefined];
      return [
        {
          id: id as string,
          shared: count,
          // What is shared counts more than how small the other is: one entry of one is less than seven of sixty.
          worth: (count ** 1.5 / Math.sqrt(size)) * (related ? 1.3 : 1) + (related ? 0.5 : 0),
          says: says.filter(Boolean).join('; '),
        },
      ];
    });
    rows.sort((a, b) => b.worth - a.worth || (a.id < b.id ? -1 : 1));
    const entries = mine
      .filter((entry) => this.#wants(entry))
      .sort((a, b) => b.ties.length - a.ties.length || (a.id < b.id ? -1 : 1))
      .map((entry) => ({
        id: entry.id as string,
        shared: 1,
        worth: 0,
        says: `tied to ${heading.name}`,
      }));
    return [...rows, ...entries, ...this.#proposedFor(heading, shared)];
  }

  /** Entries that probably belong under a heading, and the headings that only such entries lead to. */
  #proposedFor(heading: Heading, shared: ReadonlyMap<HeadingId, number>): Neighbour[] {
    const { entries, headings } = this.core.journal.tables;
    const out: Neighbour[] = [];
    const through = new Map<HeadingId, number>();
    for (const { id, certainty, reasons } of proposeFor(this.core.weaveIndex, heading.id)) {
      const entry = entries.get(id);
      if (!entry || !this.#within(id)) continue;
      if (this.#wants(entry)) {
        const why = reasons.map(({ text }) => text).join('; ');
        out.push({
          id,
          shared: 0,
          worth: 0,
          proposed: true,
          says: `proposed, ${certainty}: ${why}`,
        });
      }
      for (const other of new Set(entry.ties.map((tie) => tie.heading))) {
        if (!shared.has(other) && other !== heading.id) {
          through.set(other, (through.get(other) ?? 0) + 1);
        }
      }
    }
    const leads = [...through].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
    for (const [id, count] of leads) {
      const other = headings.get(id);
      if (!other || !this.#wants(other)) continue;
      const says = `proposed: ${entriesSaid(count)} of ${other.name} probably ${count === 1 ? 'belongs' : 'belong'} here too`;
      out.push({ id, shared: count, worth: 0, proposed: true, says });
    }
    return out;
  }

  #aroundEntry(entry: Entry): Neighbour[] {
    const { headings } = this.core.journal.tables;
    const ties = this.#ties(entry).map((tie): Neighbour => {
      const unsure = tie.by === 'proposed';
      return {
        id: tie.heading,
        shared: 1,
        worth: 1,
        says: `tied, ${tie.role}${unsure ? ', as was proposed' : ''}`,
      };
    });
    const proposed = proposeHeadingsFor(this.core.weaveIndex, entry.id).map(
      ({ id, certainty, reasons }): Neighbour => ({
        id,
        shared: 0,
        worth: 0,
        proposed: true,
        says: `proposed, ${certainty}: ${reasons.map(({ text }) => text).join('; ')}`,
      }),
    );
    const once = new Map([...proposed, ...ties].map((one) => [one.id, one]));
    return [...once.values()].filter(({ id }) => {
      const heading = headings.get(id as HeadingId);
      return heading && this.#wants(heading);
    });
  }

  /** Lines between what is already shown: entries that two headings share, and ties of entries to headings. */
  crossLinks(nodes: ReadonlyMap<string, AroundNode>, links: Map<string, AroundLink>): void {
    const counts = new Map<string, number>();
    const seen = new Set<EntryId>();
    const { headings, entries } = this.core.journal.tables;
    for (const { id, type } of nodes.values()) {
      const own = type === 'heading' ? this.#entriesOf(id as HeadingId) : [];
      const entry = type === 'entry' ? entries.get(id as EntryId) : undefined;
      for (const one of entry ? [entry] : own) {
        if (seen.has(one.id)) continue;
        seen.add(one.id);
        const held = [...new Set(this.#ties(one).map((tie) => tie.heading))]
          .filter((heading) => nodes.has(heading))
          .sort();
        held.forEach((a, at) => {
          for (const b of held.slice(at + 1)) {
            counts.set(`${a} ${b}`, (counts.get(`${a} ${b}`) ?? 0) + 1);
          }
          if (nodes.has(one.id)) {
            link(links, one.id, { id: a, shared: 1, worth: 1, says: 'tied' });
          }
        });
      }
    }
    const drawn = new Map<string, number>();
    const sorted = [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
    for (const [key, shared] of sorted) {
      const [from, to] = key.split(' ') as [string, string];
      const many = Math.max(drawn.get(from) ?? 0, drawn.get(to) ?? 0);
      const turned = links.has(key) || links.has(`${to} ${from}`);
      if (shared < LEAST_CROSS || turned || many >= MOST_CROSS) continue;
      for (const id of [from, to]) drawn.set(id, (drawn.get(id) ?? 0) + 1);
      const names = [from, to].map((id) => headings.get(id as HeadingId)?.name ?? '');
      links.set(key, {
        from,
        to,
        weight: shared,
        says: `${names.join(' and ')}: ${entriesSaid(shared)} in common`,
      });
    }
  }
}
