declare module 'edtf' {
  /** What the parser gives; months count from 0 and `unspecified` is a mask over YYYYMMDD, lowest bit first. */
  export interface ParsedEdtf {
    type?: 'Date' | 'Year' | 'Season' | 'Interval' | 'Set' | 'List' | 'Decade' | 'Century';
    values: ParsedValue[];
    uncertain?: boolean | number;
    approximate?: boolean | number;
    unspecified?: number;
    significant?: number;
    earlier?: boolean;
    later?: boolean;
  }
  export type ParsedValue = number | ParsedEdtf | ParsedEdtf[] | null;
  export function parse(text: string): ParsedEdtf;
  interface Extended {
    readonly min: number | null;
    readonly max: number | null;
  }
  export default function edtf(text: string): Extended;
}
