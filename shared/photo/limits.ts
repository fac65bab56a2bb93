/** How large photos may be (rule X6): on their way in, and as they are kept. */

/** What a camera sends. */
export const MOST_SENT_BYTES = 12 * 1_048_576;
/** Looked at before anything is decoded: four bytes a pixel are what decoding takes. */
export const MOST_SENT_PIXELS = 50_000_000;
/** The longer side of what is kept, and of the small one in lists. */
export const MOST_SIDE_PX = 2_000;
export const MOST_SMALL_SIDE_PX = 320;
export const MOST_PHOTO_BYTES = 1_048_576;
export const MOST_SMALL_BYTES = 65_536;
/** Photos of one part, and of one entry without a part, that were not removed. */
export const MOST_PHOTOS = 24;
export const MOST_REMARK = 400;
