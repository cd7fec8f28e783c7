export interface CleanPicture {
  /** Without Exif, XMP, IPTC, comments and whatever follows the picture; the way up is kept. */
  bytes: Uint8Array;
  type: string;
  width?: number;
  height?: number;
  /** Whether the file came to its proper end. */
  whole: boolean;
}
