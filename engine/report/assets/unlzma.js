// Unpacks the engine: browsers unpack gzip themselves, but LZMA packs a third smaller.
// Format "LZMA alone" as the public LZMA specification describes it: 13 bytes of head, then
// range-coded bits. P[i] is the chance in 2048ths that the next bit of its kind is 0; the
// constants say where in P each kind begins.
'use strict';
function unlzma(src) {
  const size = src[5] + src[6] * 256 + src[7] * 65536 + src[8] * 16777216, 
    out = new Uint8Array(size);
  const lc = src[0] % 9, pb = Math.floor(src[0] / 45), lp = Math.floor(src[0] / 9) % 5, posMask = (1 << pb) - 1, litMask = (1 << lp) - 1;
  const MATCH = 0, REP = 192, REP0 = 204, REP1 = 216, REP2 = 228, LONG = 240, SLOT = 432, FAR = 688, ALIGN = 804, LEN = 820, REPLEN = 1334, LITERAL = 1848;
  const P = new Uint16Array(LITERAL + (0x300 << (lc + lp))).fill(1024);
  let at = 18, code = 0, range = 0xffffffff | 0, n = 0, state = 0, rep0 = 0, rep1 = 0, rep2 = 0, rep3 = 0;
  code = src[14] << 24 | src[15] << 16 | src[16] << 8 | src[17];
  function bit(i) {
    const p = P[i], bound = Math.imul(range >>> 11, p);
    let b = 0;
    if ((code >>> 0) < (bound >>> 0)) { range = bound; P[i] = p + (2048 - p >> 5); }
    else { range = range - bound | 0; code = code - bound | 0; P[i] = p - (p >> 5); b = 1; }
    if (range >>> 24 === 0) { range <<= 8; code = code << 8 | src[at++]; }
    return b;
  }
  function tree(base, bits) {
    let m = 1;
    for (let i = bits; i; i--) m = m << 1 | bit(base + m);
    return m - (1 << bits);
  }
  function back(base, bits) { // lowest bit first
    let m = 1, s = 0;
    for (let i = 0; i < bits; i++) { const b = bit(base + m); m = m << 1 | b; s |= b << i; }
    return s;
  }
  function length(base, pos) {
    if (!bit(base)) return tree(base + 2 + (pos << 3), 3);
    if (!bit(base + 1)) return 8 + tree(base + 130 + (pos << 3), 3);
    return 16 + tree(base + 258, 8);
  }
  while (n < size) {
    const pos = n & posMask;
    if (!bit(MATCH + (state << 4) + pos)) {
      const base = LITERAL + 0x300 * (((n & litMask) << lc) + ((n ? out[n - 1] : 0) >> 8 - lc));
      let m = 1, r = range, c = code, like = state < 7 ? 0 : out[n - rep0 - 1] | 256, p, bound;
      // the one loop that most of the time goes to: bit() written out, on names of its own
      while (m < 256) {
        let i = base + m, b = 0;
        if (like) { like <<= 1; i += 256 + (like & 256); }
        p = P[i]; bound = Math.imul(r >>> 11, p);
        if ((c >>> 0) < (bound >>> 0)) { r = bound; P[i] = p + (2048 - p >> 5); }
        else { r = r - bound | 0; c = c - bound | 0; P[i] = p - (p >> 5); b = 1; }
        if (r >>> 24 === 0) { r <<= 8; c = c << 8 | src[at++]; }
        m = m << 1 | b;
        if (like && (like >> 8 & 1) !== b) like = 0;
      }
      range = r; code = c;
      out[n++] = m;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let len;
    if (bit(REP + state)) {
      if (!bit(REP0 + state)) {
        if (!bit(LONG + (state << 4) + pos)) { out[n] = out[n - rep0 - 1]; n++; state = state < 7 ? 9 : 11; continue; }
      } else {
        let d;
        if (!bit(REP1 + state)) d = rep1;
        else { if (!bit(REP2 + state)) d = rep2; else { d = rep3; rep3 = rep2; } rep2 = rep1; }
        rep1 = rep0; rep0 = d;
      }
      len = length(REPLEN, pos);
      state = state < 7 ? 8 : 11;
    } else {
      rep3 = rep2; rep2 = rep1; rep1 = rep0;
      len = length(LEN, pos);
      state = state < 7 ? 7 : 10;
      const slot = tree(SLOT + (Math.min(len, 3) << 6), 6);
      if (slot < 4) rep0 = slot;
      else {
        const low = (slot >> 1) - 1;
        rep0 = (2 | slot & 1) << low;
        if (slot < 14) rep0 += back(FAR + rep0 - slot, low);
        else {
          let d = 0;
          for (let i = low - 4; i; i--) { // even chances: bits as they are
            range >>>= 1; code = code - range | 0;
            const t = code >> 31; code = code + (range & t) | 0;
            d = d << 1 | t + 1;
            if (range >>> 24 === 0) { range <<= 8; code = code << 8 | src[at++]; }
          }
          rep0 += (d << 4) + back(ALIGN, 4);
        }
      }
      if (rep0 === -1) break; // the sign of the end
    }
    if (rep0 >= n) throw new Error('not as it was packed');
    len = Math.min(len + 2, size - n);
    for (let from = n - rep0 - 1; len; len--) out[n++] = out[from++];
  }
  return out;
}
