import sprite from '../look/glyphs.svg?raw';

/** Puts the glyphs into the page once, so that every Glyph can name one. */
export function layGlyphs(into: Document): void {
  const holder = into.createElement('div');
  holder.hidden = true;
  holder.innerHTML = sprite;
  into.body.prepend(holder);
}
