/** bibtex-parse 2.1.0 carries no types; this is what is used of it. */
declare module 'bibtex-parse' {
  interface Value {
    datatype: string;
    value: unknown;
  }
  interface Field extends Value {
    name: string;
  }
  type Item =
    | ({ itemtype: 'string'; name: string } & Value)
    | { itemtype: 'entry'; type: string; key: string; fields: Field[] }
    | { itemtype: 'comment' | 'preamble' };
  export function parse(source: string): Item[];
}
