/** What is used of the citation processor, which brings no types. */
declare module 'citeproc' {
  export interface Format {
    [rule: string]: unknown;
  }
  export class Engine {
    constructor(
      sys: { retrieveLocale(): object; retrieveItem(id: string): object },
      style: object,
      language: string,
    );
    setOutputFormat(name: string): void;
    updateItems(ids: readonly string[]): void;
    makeCitationCluster(
      cites: readonly { id: string; locator?: string; label?: string; suffix?: string }[],
    ): string;
    makeBibliography(filter?: {
      include: { field: string; value: string }[];
    }): [params: object, list: string[]] | false;
  }
  const CSL: { Engine: typeof Engine; Output: { Formats: Record<string, Format> } };
  export default CSL;
}

declare module 'citation-style:*' {
  const style: object;
  export default style;
}
