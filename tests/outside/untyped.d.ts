/** The parts of two untyped readers that checks use. */
declare module '@orcid/bibtex-parse-js' {
  interface BibtexEntry {
    citationKey: string;
    entryType: string;
    entryTags: Record<string, string>;
  }
  const reader: { toJSON(text: string): BibtexEntry[] };
  export default reader;
}

declare module 'graphology-graphml' {
  import type Graph from 'graphology';
  export function parse(
    GraphConstructor: unknown,
    text: string,
    options?: { addMissingNodes?: boolean },
  ): Graph;
}
