/** What is said of photos. */
import { say } from '#shared/words/say.ts';

export const NO_PHOTOS = say`No photo yet.`;
export const WHAT_IS_KEPT = say`Kept is the picture alone, made smaller: neither the place where it was taken nor the camera.`;
export const REMOVING = say`It is shown no more. That you removed it, when and why stays.`;
