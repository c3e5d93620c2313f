// Long strips and lists: only what is seen is in the page. A browser cannot lay
// out arbitrarily long boxes, so beyond a bound the scroll bar moves in larger
// steps than the content.

const BOUND = 8e6; // points

/** span maps a scroll place to content and back. */
export function span(count, size, seen) {
  const full = count * size, laid = Math.min(full, BOUND);
  const ratio = laid > seen ? (full - seen) / (laid - seen) : 1;
  return {
    laid,
    /** first and last item in view at a scroll place, and where item 0 lies in the laid box. */
    at(place) {
      const top = place * ratio;
      return { first: Math.max(0, Math.floor(top / size)), last: Math.min(count - 1, Math.floor((top + seen) / size)), shift: place - top };
    },
    /** place brings an item to the beginning of the view. */
    place: (item) => item * size / ratio,
  };
}
