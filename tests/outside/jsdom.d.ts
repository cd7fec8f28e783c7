/** The part of jsdom that checks use. */
declare module 'jsdom' {
  export class JSDOM {
    constructor(html?: string);
    readonly window: Window & { DOMParser: typeof DOMParser };
  }
}
