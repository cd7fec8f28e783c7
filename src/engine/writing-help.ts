import type { CircleId, EntryId, EntryKind, Tie } from '../journal/records';
import { proposeKind } from '../language/kinds';
import { proposeLevel } from '../language/levels';
import { plainText } from '../language/markdown';
import { minutesFor } from '../plan/minutes';
import { proposeHeadingsFor } from '../weave/tied';
import type { WritingHelp } from './desk';
import type { Core } from './core';
import { declinedFor } from './entry-drafts';

/** Beyond this many characters only the beginning is looked at: proposals must not lag behind the hand. */
const LOOKED_AT = 8000;

/** What can be proposed for an entry in the writing; with its `id`, nothing that was declined for it. */
export function writingHelp(
  engine: Core,
  draft: { id?: EntryId; text: string; kind?: EntryKind; ties: Tie[]; circle?: CircleId },
): WritingHelp {
  const raw = draft.text.slice(0, LOOKED_AT);
  const text = plainText(raw);
  const kind = proposeKind(raw);
  const as = draft.kind ?? kind.kind;
  const declined = draft.id ? declinedFor(engine, draft.id) : [];
  const held = new Set([...draft.ties.map((tie) => tie.heading), ...declined]);
  const ties =
    text.trim() === ''
      ? []
      : proposeHeadingsFor(engine.weaveIndex, { text, ties: draft.ties }).flatMap(
          ({ id, certainty, reasons }) => {
            const heading = engine.journal.tables.headings.get(id);
            if (!heading || held.has(id)) return [];
            const { text: reason = '', words = [] } = reasons[0] ?? {};
            const { name, kind } = heading;
            return [{ heading: id, name, kind, certainty, reason, words: [...words] }];
          },
        );
  const circle = draft.circle && engine.journal.tables.circles.get(draft.circle);
  const level = as === 'question' && text.trim() ? proposeLevel(text) : undefined;
  const entry = { kind: as, text: raw, ...(level ? { level: level.level } : {}) };
  return {
    kind,
    ties,
    ...(level ? { level } : {}),
    ...(text.trim() ? { minutes: minutesFor(entry, circle?.pace, circle?.size) } : {}),
  };
}
