// A frame of spent ribbon: the panel as it lies under the head, seen from the
// head's side, with what was printed missing. The card's leading edge is at the
// left and the feed runs to the left. From that side direct printing reads
// right, for the eye looks through the carrier; retransfer is mirrored.

/** shape is the size of a frame in dots: along the feed, across the web. */
export function shape(side) { return alongX(side) ? { w: side.w, h: side.h } : { w: side.h, h: side.w }; }

/** extent is the same in millimetres. */
export function extent(side) { return alongX(side) ? { w: side.mm.w, h: side.mm.h } : { w: side.mm.h, h: side.mm.w }; }

const alongX = (side) => side.feed.leads === "left" || side.feed.leads === "right";

/** web finds, for a dot of the frame, where on the face it was printed: start
 *  and the steps along the feed and across the web. */
export function web(side) {
  const { w, h } = side, leads = side.feed.leads;
  const flipFeed = leads === "right" || leads === "bottom";
  // Left leading: upright. Right: half a turn. Top: a quarter turn anticlockwise.
  // Bottom: a quarter turn clockwise. Retransfer: the same in a mirror.
  let flipHead = leads === "right" || leads === "top";
  if (side.feed.process === "retransfer") flipHead = !flipHead;
  const [feedStep, feedCount, headStep, headCount] = alongX(side) ? [1, w, w, h] : [w, h, 1, w];
  return {
    start: (flipFeed ? (feedCount - 1) * feedStep : 0) + (flipHead ? (headCount - 1) * headStep : 0),
    feed: flipFeed ? -feedStep : feedStep, head: flipHead ? -headStep : headStep,
  };
}

/** ramp goes from the full panel to the clear carrier on white paper; what is
 *  left of a dye weakens its colour by the law of Beer and Lambert. */
export function ramp(colour) {
  return Uint32Array.from({ length: 256 }, (_, gone) => {
    const [r, g, b] = colour.map((v) => Math.round(255 * (Math.max(v, 1) / 255) ** (1 - gone / 255)));
    return (0xff000000 | b << 16 | g << 8 | r) >>> 0;
  });
}

/** paint draws one panel's frame at full size. */
export function paint(side, panel, panels) {
  const size = shape(side), t = web(side), colours = ramp(panel.colour);
  const image = new ImageData(size.w, size.h), out = new Uint32Array(image.data.buffer);
  const plane = panels.planes[panel.plane], scale = "ymc".includes(panel.plane) ? 1 : 255;
  if (!plane) out.fill(colours[0]);
  else for (let y = 0, i = 0; y < size.h; y++) {
    let at = t.start + y * t.head;
    for (let x = 0; x < size.w; x++, i++, at += t.feed) out[i] = colours[plane[at] * scale];
  }
  return image;
}
