/** What is said of photos. */
export const NO_PHOTOS = 'No photo yet.';
export const WHAT_IS_KEPT =
  'Kept is the picture alone, made smaller: neither the place where it was taken nor the camera.';
export const REMOVING = 'It is shown no more. That you removed it, when and why stays.';
