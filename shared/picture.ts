import { z } from 'zod';

/** What a picture shows: a finding of a walk, by a statement in it, or a squawk. */
export const PictureOf = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('finding'), statement: z.string() }),
  z.object({ kind: z.literal('squawk'), squawk: z.string() }),
]);
export type PictureOf = z.infer<typeof PictureOf>;

/**
 * A picture as the log names it. It was made anew from its pixels before it was
 * kept: no place, device or time of the camera is in its bytes.
 */
export const Picture = z.object({
  picture: z.string(),
  mime: z.string(),
  /** SHA-256 of its bytes, hex. */
  hash: z.string(),
  width: z.number().int().positive(),
  height: z.number().int().positive(),
});
export type Picture = z.infer<typeof Picture>;

/**
 * A picture with its bytes, as far as they are here. gone: the log names it and
 * its bytes are not on this device; erased: on request, with the reason.
 */
export type Shown =
  | { readonly state: 'here'; readonly mime: string; readonly data: ArrayBuffer }
  | { readonly state: 'gone' }
  | { readonly state: 'erased'; readonly why: string };

/** The only form in which pictures are kept: every browser writes it, and a PDF holds it as it is. */
export const PICTURE_MIME = 'image/jpeg';

/**
 * The longest side, in pixels, of what is kept. A crack of half a millimetre in
 * a picture 40 cm wide is two pixels; larger costs room and minutes of sending,
 * smaller loses what the picture was taken for.
 */
export const LONGEST_SIDE = 1600;

/** Bytes of a picture that is kept, at most: fifty of them are one walk's sound. */
export const MAX_PICTURE_BYTES = 1024 * 1024;

/** Pictures of one finding or squawk, at most: more is an album that nobody looks through. */
export const MOST_PICTURES = 6;
