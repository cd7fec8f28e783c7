import { Parser } from 'htmlparser2';
import { DEEPEST_ELEMENT } from './limits';
import { Unreadable, type Watch } from './watch';

export type Attributes = Readonly<Record<string, string>>;

/** What a walk through marked-up text tells, in the order of the file. */
export interface Marked {
  open(name: string, attributes: Attributes): void;
  text(text: string): void;
  close(name: string): void;
}

const SLICE = 64 * 1024;

/**
 * Walks through HTML, or XML with `xml`: tags and text are told to `marked`, comments and instructions are not; nothing is looked up
 * or run, and no entity beyond the standard names is known. Takes whatever it is given; only nesting beyond `DEEPEST_ELEMENT` throws.
 */
export async function walk(
  text: string,
  marked: Marked,
  watch: Watch,
  { xml = false }: { xml?: boolean } = {},
): Promise<void> {
  let depth = 0;
  const parser = new Parser(
    {
      onopentag(name, attributes) {
        watch.tick();
        depth += 1;
        if (depth > DEEPEST_ELEMENT) {
          throw new Unreadable(
            'too-deep',
            'The tags of this file are nested thousands deep, as no page is that was written to be read. Copy the text you want into a plain file and gather that.',
          );
        }
        marked.open(name, attributes);
      },
      ontext(data) {
        watch.tick();
        marked.text(data);
      },
      onclosetag(name) {
        depth -= 1;
        marked.close(name);
      },
    },
    { xmlMode: xml, decodeEntities: true },
  );
  for (let at = 0; at < text.length; at += SLICE) {
    parser.write(text.slice(at, at + SLICE));
    await watch.rest();
  }
  parser.end();
}

/** A name without its prefix: "text:p" is "p". */
export function localName(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/** Text and attribute values as they are written in HTML. */
export function escapeHtml(text: string): string {
  return text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;');
}
