/** Kinds of picture that are taken, decided by content. */
export const PICTURE_TYPES = ['image/jpeg', 'image/png', 'image/webp'] as const;
export type PictureType = (typeof PICTURE_TYPES)[number];

/** Endings of the names of such files. */
export const PICTURE_ENDINGS: Readonly<Record<PictureType, string>> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
};

/** What the archive knows of the file of a photo that it keeps; a function of the file's bytes alone. */
export interface PhotoFile {
  /** SHA-256 of the file as it came, lower-case hexadecimal. */
  readonly sha256: string;
  readonly type: PictureType;
  /** Size of the file, bytes. */
  readonly bytes: number;
  /** Size of the upright picture (Exif orientation applied), pixels. */
  readonly width: number;
  readonly height: number;
  /** Exif orientation, 1 to 8 (Exif 2.32, section 4.6.4); 1 is upright. */
  readonly orientation: number;
  /** The file without anything but its picture: where and with which camera it was taken is left out. */
  readonly served: { readonly sha256: string; readonly bytes: number };
  /** Perceptual hash of the upright picture, 64 hexadecimal digits; copies have hashes that differ in few bits. */
  readonly likeness: string;
}
