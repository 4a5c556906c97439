// Sliders over computed states. Figures come as whole numbers of their last
// decimal, so nothing is rounded here and nothing lies between two states.
DATA.explores.forEach((E, nth) => {
  const el = s => $(E.id + s), at = [...E.base], B = index(E.base), SVG = 'http://www.w3.org/2000/svg';
  const name = i => (nth ? nth + 1 + '.' : '') + E.axes[i].name;
  let field = E.drawn;

  function index(a) { return a.reduce((k, v, i) => k * E.axes[i].shown.length + v, 0); }
  // 4288 with three decimals is 4.288
  function decimal(n, d) {
    const s = String(Math.abs(n)).padStart(d + 1, '0'), out = d ? s.slice(0, -d) + '.' + s.slice(-d) : s;
    return (n < 0 ? '\u2212' : '') + out;
  }
  function clock(n, d) {
    const p = 10 ** d, whole = Math.abs(n), m = Math.floor(whole / (60 * p)), rest = decimal(whole - m * 60 * p, d);
    return (n < 0 ? '\u2212' : '') + m + ':' + (/^\d(\.|$)/.test(rest) ? '0' + rest : rest);
  }
  const shown = (f, s) => f.values[s] == null ? '\u2013' : f.clock ? clock(f.values[s], f.digits) : decimal(f.values[s], f.digits);
  const after = f => f.clock ? unit(f.unit.replace(/^s(?=\/|$)/, '')) : unit(f.unit);
  const where = a => E.axes.map((x, i) => x.name.replace(/_/g, ' ') + ' ' + x.shown[a[i]] + unit(x.unit)).join(', ');
  const change = (f, s) => { const n = f.diffs[s]; return n == null ? '' : n == 0 ? 'as the base' : (n > 0 ? '+' : '') + decimal(n, f.change) + ' from the base'; };

  function show() {
    const s = index(at);
    E.axes.forEach((x, i) => {
      const r = el('a' + i), n = el('a' + i + 'n');
      r.value = at[i]; r.setAttribute('aria-valuetext', x.shown[at[i]] + unit(x.unit));
      if (x.nums) n.value = x.nums[at[i]]; else n.textContent = x.shown[at[i]];
    });
    E.fields.forEach((f, k) => { el('o' + k).textContent = shown(f, s); el('d' + k).textContent = change(f, s); });
    const some = E.fields.filter(f => f.values[s] != null), w = where(at), head = w.charAt(0).toUpperCase() + w.slice(1) + ': ';
    el('say').textContent = head + (some.length ? some.map(f => f.label + ' ' + shown(f, s) + after(f)).join(', ') + '.' : (E.reasons || {})[s] || 'no stroke there');
    E.plots.forEach(plot);
  }
  function plot(P) {
    const f = E.fields[field], a = E.axes[0], n = a.shown.length, e = s => $(P.id + s);
    const u = i => n < 2 ? .5 : a.nums && a.nums[n - 1] != a.nums[0] ? (a.nums[i] - a.nums[0]) / (a.nums[n - 1] - a.nums[0]) : i / (n - 1);
    const X = i => P.x0 + u(i) * (P.x1 - P.x0), Y = v => P.y0 + (v - f.axis.low) / (f.axis.high - f.axis.low) * (P.y1 - P.y0);
    const value = s => f.diffs[s] != null ? f.base + f.diffs[s] / 10 ** f.change : f.values[s] != null ? f.values[s] / 10 ** f.digits : null;
    e('title').textContent = f.axis.title; e('span').textContent = f.axis.span;
    e('ticks').replaceChildren(...f.axis.ticks.flatMap((t, i) => {
      const l = document.createElementNS(SVG, 'path'), w = document.createElementNS(SVG, 'text'), y = Y(t).toFixed(1);
      l.setAttribute('class', 'hair'); l.setAttribute('d', `M${P.x0} ${y}H${P.x1}`);
      w.setAttribute('class', 't2 end'); w.setAttribute('x', P.x0 - 7); w.setAttribute('y', +y + 4.4); w.textContent = f.axis.labels[i];
      return [l, w];
    }));
    const lines = E.axes.length > 1 ? E.axes[1].shown.length : 1;
    const ends = [];
    for (let j = 0; j < lines; j++) {
      const q = [...at]; let d = '', gap = true, end = null;
      if (lines > 1) q[1] = j;
      for (let i = 0; i < n; i++) {
        q[0] = i; const v = value(index(q));
        if (v == null) { gap = true; continue; }
        end = Y(v); d += (gap ? 'M' : 'L') + X(i).toFixed(1) + ' ' + end.toFixed(1); gap = false;
      }
      const on = E.axes.length < 2 || j == at[1];
      e('l' + j).setAttribute('d', d); e('l' + j).classList.toggle('on', on); if (on) e('here').before(e('l' + j));
      if (e('t' + j)) { ends.push({j, on, y: end}); e('t' + j).classList.toggle('on', on); }
    }
    // the chosen line's name always; the others where they do not touch it or each other
    const placed = [];
    ends.sort((a, b) => b.on - a.on || (a.j == 0 || a.j == lines - 1 ? -1 : 1)).forEach(o => {
      const free = o.y != null && placed.every(y => Math.abs(y - o.y) >= 14);
      e('t' + o.j).setAttribute('visibility', free ? 'visible' : 'hidden');
      if (free) { placed.push(o.y); e('t' + o.j).setAttribute('y', (o.y + 4).toFixed(1)); }
    });
    const v = value(index(at));
    e('here').setAttribute('visibility', v == null ? 'hidden' : 'visible');
    if (v != null) { e('here').setAttribute('cx', X(at[0]).toFixed(1)); e('here').setAttribute('cy', Y(v).toFixed(1)); }
  }
  function keep() {
    E.axes.forEach((x, i) => { at[i] == E.base[i] ? FRAGMENT.set.delete(name(i)) : FRAGMENT.set.set(name(i), x.nums ? String(x.nums[at[i]]) : x.shown[at[i]]); });
    keepState();
  }
  const nearest = (x, v) => x.nums ? x.nums.reduce((b, w, i) => Math.abs(w - v) < Math.abs(x.nums[b] - v) ? i : b, 0) : Math.max(0, x.shown.indexOf(v));
  E.axes.forEach((x, i) => {
    const v = FRAGMENT.set.get(name(i));
    if (v !== undefined && (!x.nums || isFinite(v))) at[i] = nearest(x, x.nums ? +v : v);
    el('a' + i).oninput = e => { at[i] = +e.target.value; show(); keep(); };
    if (x.nums) el('a' + i + 'n').onchange = e => { if (e.target.value !== '') at[i] = nearest(x, +e.target.value); show(); keep(); };
  });
  el('reset').onclick = () => { E.base.forEach((v, i) => at[i] = v); show(); keep(); };
  if (el('field')) el('field').onchange = e => { field = +e.target.value; show(); };
  all('[hidden]', $(E.id)).forEach(h => h.hidden = false);
  show();
});
