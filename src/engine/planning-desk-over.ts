/** The planning part of the desk over an engine, loaded when first asked. */
import { putRow } from '../journal/make-edits';
import type { GuideId } from '../journal/records';
import { partsFor, scaledParts } from '../plan/shapes';
import { circleView } from './circle-history';
import { composeGuide, standing } from './composing';
import type { DeskPart } from './desk-part';
import { framesFor } from './frames';
import { guideView } from './guide-view';
import type { PlanningDesk } from './planning-desk';
import { publishGuide, type Faces } from './publishing';
import { suggestions, whyNotThis } from './suggesting';
import { copyOf } from './templates';

export function planningDesk({ core, apply, loaded }: DeskPart, faces: Faces): PlanningDesk {
  return {
    async compose(ask) {
      // What is to be in it may still come from the store.
      const { entries } = core().journal.tables;
      if (!ask.focus.entries.every((id) => entries.has(id))) await loaded();
      return composeGuide(core(), ask);
    },
    standing: async (ask, guide) => standing(core(), ask, guide),
    guideView: async (guide) => guideView(core(), guide),
    async usualParts(shape, minutes, like) {
      if (like) return scaledParts(shape, like.parts, like.minutes, minutes);
      return partsFor(shape, minutes).map(({ name, minutes: long, aim }) => ({
        name,
        minutes: long,
        ...(aim ? { aim } : {}),
      }));
    },
    frames: async (guide, level) => framesFor(core(), guide, level),
    suggest: async (ask) => suggestions(core(), ask),
    whyNot: async (ask, entry) => whyNotThis(core(), ask, entry),
    async copyGuide(id) {
      const held = core().journal.tables.guides.get(id);
      if (!held) return { ok: false, said: 'That guide is no longer there.', code: 'gone' };
      const copy = copyOf(held, {
        id: core().around.newId() as GuideId,
        made: core().nowIso(),
      });
      const edit = putRow(core().journal, 'guides', copy);
      return apply({ ...edit, does: `Copy the guide ${held.title}` }, copy.id);
    },
    circleView: async (id) => circleView(core().journal, id),
    publish: async (guide, how) => publishGuide(core(), guide, how, faces),
  };
}
