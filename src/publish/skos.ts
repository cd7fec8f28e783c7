/** The themes as a concept scheme in Turtle: SKOS Reference and RDF 1.1 Turtle, W3C Recommendations of 2009 and 2014. */
import type { ThemeHeading } from '../journal/records';
import { iriOf } from './iri';
import { themesOf, type OpenRows } from './open-rows';
import { clean } from './safe-text';

/**
 * One concept for each theme. Broader is written with its inverse; `related` is left out between a
 * theme and one that stands above it, because SKOS holds the two apart (S27). A name that is also an
 * alternate is written once (S13).
 */
export function toSkos(rows: OpenRows): string {
  const themes = themesOf(rows).sort((a, b) => (a.id < b.id ? -1 : 1));
  const scheme = `<${iriOf(rows.id)}>`;
  const narrower = new Map<string, string[]>();
  for (const { id, broader } of themes)
    for (const above of new Set<string>(broader))
      narrower.set(above, [...(narrower.get(above) ?? []), id]);
  const byId = new Map<string, ThemeHeading>(themes.map((theme) => [theme.id, theme]));
  const head = [
    '@prefix dcterms: <http://purl.org/dc/terms/> .',
    '@prefix skos: <http://www.w3.org/2004/02/skos/core#> .',
    '',
    `${scheme} a skos:ConceptScheme ;\n  dcterms:title ${literal(`Themes of ${rows.name}`)} .`,
  ];
  const concepts = themes.map((theme) => {
    const here = (ids: readonly string[]): string[] =>
      [...new Set(ids)].filter((id) => id !== theme.id && byId.has(id));
    const above = here(theme.broader);
    const related = here(theme.related).filter(
      (id) => !ancestors(theme.id, byId).has(id) && !ancestors(id, byId).has(theme.id),
    );
    const labels = [...new Set(theme.alternates)].filter((name) => name !== theme.name);
    const said: [string, string[]][] = [
      ['skos:inScheme', [scheme]],
      ['skos:topConceptOf', above.length === 0 ? [scheme] : []],
      ['skos:prefLabel', [literal(theme.name)]],
      ['skos:altLabel', labels.map(literal)],
      ['skos:broader', above.map(named)],
      ['skos:narrower', here(narrower.get(theme.id) ?? []).map(named)],
      ['skos:related', related.map(named)],
      ['skos:note', theme.note ? [literal(theme.note)] : []],
    ];
    const lines = said.flatMap(([term, values]) =>
      values.length > 0 ? [`  ${term} ${values.join(', ')}`] : [],
    );
    return `\n${named(theme.id)} a skos:Concept ;\n${lines.join(' ;\n')} .`;
  });
  return `${[...head, ...concepts].join('\n')}\n`;
}

const named = (id: string): string => `<${iriOf(id)}>`;

/** Everything above a theme, however far; circles do no harm. */
function ancestors(id: string, byId: ReadonlyMap<string, ThemeHeading>): Set<string> {
  const found = new Set<string>();
  const waiting = [...(byId.get(id)?.broader ?? [])] as string[];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (found.has(next)) continue;
    found.add(next);
    waiting.push(...(byId.get(next)?.broader ?? []));
  }
  return found;
}

/** A quoted literal, without a language: a journal does not say which its themes are named in. */
function literal(text: string): string {
  const inside = clean(text)
    .replace(/\\/g, '\\\\')
    .replace(/"/g, '\\"')
    .replace(/\n/g, '\\n')
    .replace(/\t/g, '\\t');
  return `"${inside}"`;
}
