/** Guides kept as templates: the parts, times, breaks and aims of a guide, without its entries, to begin others from. */
import type { Guide, GuideId, GuideItem } from '../journal/records';

/** An item for another time: when it was due this time is left out. */
function undated({ due: _due, ...item }: GuideItem): GuideItem {
  return item;
}

/**
 * The template of a guide. Items of the journal, the focus, spares, all days and the series stay behind; breaks,
 * readings aloud and the leader's own words stay where they are.
 */
export function templateOf(guide: Guide, as: { id: GuideId; made: string; title?: string }): Guide {
  const { starts: _starts, spare: _spare, refused: _refused, series: _series, ...rest } = guide;
  return {
    ...rest,
    id: as.id,
    made: as.made,
    title: as.title?.trim() || guide.title,
    focus: { words: [], headings: [], entries: [] },
    parts: guide.parts.map((part) => ({
      ...part,
      items: part.items
        .filter(({ entry }) => !entry)
        .map((item) => ({ ...undated(item), fixed: true })),
    })),
    template: true,
  };
}

/** A guide begun from a template, or from another guide as if it were one. */
export function fromTemplate(
  template: Guide,
  as: { id: GuideId; made: string; title?: string },
): Guide {
  const { template: _template, ...rest } = templateOf(template, as);
  return rest;
}

/** A guide like another, not yet met. */
export function copyOf(guide: Guide, as: { id: GuideId; made: string }): Guide {
  const { starts: _starts, template: _template, series: _series, ...rest } = guide;
  return {
    ...rest,
    ...as,
    title: `${guide.title}, again`,
    parts: guide.parts.map((part) => ({ ...part, items: part.items.map(undated) })),
    ...(guide.spare ? { spare: guide.spare.map(undated) } : {}),
  };
}
