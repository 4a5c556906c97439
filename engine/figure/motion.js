// The moving picture. It draws computed frames, straight between two of them.
DATA.motions.forEach(M => {
  const root = $(M.id), el = s => $(M.id + s), step = M.step;
  const last = Math.max(...M.oars.map(o => o.angle.length - 1)), END = last * step;
  let t = M.start * step, playing = false, before = 0, cam = 'water';

  function at(o, time) {
    const n = o.angle.length - 1, f = Math.min(time / step, n), i = Math.min(Math.floor(f + 1e-9), n - 1), u = f - i;
    const mix = a => a[i] + (a[i + 1] - a[i]) * u, ang = mix(o.angle), s = Math.sin(ang * Math.PI / 180), c = Math.cos(ang * Math.PI / 180), x = mix(o.hull);
    return {ang, x, s, c, force: mix(o.force), hands: mix(o.hands), speed: mix(o.speed), slip: o.slip ? mix(o.slip) : 0, on: r => [x - r * s, r * c]};
  }
  const lead = M.oars[0], x0 = lead.hull[0], xF = at(lead, lead.drive).x, xE = lead.hull[lead.hull.length - 1];

  function drawScene(S) {
    const x = at(lead, t).x;
    // where the pin stands in the view: over the still water in the drive, back in the recovery
    let view = S.boat;
    if (cam == 'water') view = t <= lead.drive ? S.catch + (S.finish - S.catch) * (x - x0) / (xF - x0) : S.finish + (S.catch - S.finish) * (x - xF) / (xE - xF || 1);
    const dx = x - view, X = v => ((v - dx - S.left) * S.k).toFixed(2), Y = v => ((S.top - v) * S.k).toFixed(2), P = (a, b) => X(a) + ' ' + Y(b);
    const e = s => $(S.id + s), NS = 'http://www.w3.org/2000/svg', marks = e('marks');
    marks.replaceChildren();
    for (let m = Math.ceil((dx + S.left) / 100); m * 100 < dx + S.left + S.w / S.k; m++) {
      const l = document.createElementNS(NS, 'path'), w = document.createElementNS(NS, 'text');
      l.setAttribute('class', 'hair'); l.setAttribute('d', `M${X(m * 100)} 0V${S.h}`);
      w.setAttribute('class', 'sm t2'); w.setAttribute('x', +X(m * 100) + 4); w.setAttribute('y', 13); w.textContent = m + NARROW + 'm';
      marks.append(l, w);
    }
    M.oars.forEach((o, k) => { // every oar has its own hull
      const x = at(o, t).x, mid = -Math.max(lead.in * .95, 60), up = [], down = [];
      for (let i = -12; i <= 12; i++) { const a = 35 * i, b = 14 * (1 - a * a / 176400) ** .75; up.push(P(x + a, mid + b)); down.unshift(P(x + a, mid - b)); }
      e(k + 'hull').setAttribute('d', 'M' + up.concat(down).join('L') + `ZM${P(x, 0)}L${P(x + 34, mid + 14)}M${P(x, 0)}L${P(x - 34, mid + 14)}`);
    });
    M.oars.forEach((o, k) => {
      const q = at(o, t), wet = t <= o.drive + 1e-9, h = q.on(-o.in), n = q.on(o.out - o.blade / 2), p = q.on(o.out + o.blade / 2);
      const bx = 4.5 * q.c, by = 4.5 * q.s;
      e(k + 'shaft').setAttribute('d', `M${P(...h)}L${P(...n)}`);
      e(k + 'blade').setAttribute('d', `M${P(n[0] + bx, n[1] + by)}L${P(p[0] + bx, p[1] + by)}L${P(p[0] - bx, p[1] - by)}L${P(n[0] - bx, n[1] - by)}Z`);
      e(k + 'blade').classList.toggle('lifted', !wet);
      e(k + 'pin').setAttribute('cx', X(q.x)); e(k + 'pin').setAttribute('cy', Y(0));
      let d = '', end = Math.min(t, o.drive);
      for (let i = 0; i * step < end; i++) d += (i ? 'L' : 'M') + P(...at(o, i * step).on(o.out));
      e(k + 'trail').setAttribute('d', d + (d ? 'L' : 'M') + P(...at(o, end).on(o.out)));
      const dots = e(k + 'dots'); dots.replaceChildren();
      for (let i = 0; M.every && i * M.every <= end + 1e-9; i++) {
        const c = document.createElementNS(NS, 'circle'), p = at(o, i * M.every).on(o.out);
        c.setAttribute('class', 'f' + o.look); c.setAttribute('r', 3.2); c.setAttribute('cx', X(p[0])); c.setAttribute('cy', Y(p[1])); dots.append(c);
      }
      const name = e(k + 'name'); name.setAttribute('x', +X(p[0]) + (k ? -9 : 9)); name.setAttribute('y', +Y(p[1]) + (k ? -2 : 4));
      const L = q.force * .09, fx = h[0] + L * q.c, fy = h[1] + L * q.s, w = (a, b) => P(fx - a * q.c - b * q.s, fy - a * q.s + b * q.c);
      e(k + 'force').setAttribute('d', wet && L > 4 ? `M${P(...h)}L${P(fx, fy)}M${w(7, 4)}L${w(0, 0)}L${w(7, -4)}` : '');
      const newton = e(k + 'newton'); newton.textContent = !k && wet && L > 4 ? 'force ' + num(q.force, 0) + unit('N') : '';
      newton.setAttribute('x', +X(h[0]) - 7); newton.setAttribute('y', +Y(h[1]) + 4);
    });
  }
  function drawTrace(T) {
    const X = v => (T.x0 + v / T.time * (T.x1 - T.x0)).toFixed(1), Y = v => (T.y0 + v / T.most * (T.y1 - T.y0)).toFixed(1);
    M.oars.forEach((o, k) => {
      const end = Math.min(t, o.drive); let d = '';
      for (let i = 0; i * step <= end + 1e-9; i++) d += (i ? 'L' : 'M') + X(i * step) + ' ' + Y(o[T.of][i]);
      $(T.id + k).setAttribute('d', d + 'L' + X(end) + ' ' + Y(at(o, end)[T.of]));
    });
    $(T.id + 'now').setAttribute('d', t <= T.time ? `M${X(t)} ${T.y0}V${T.y1}` : '');
  }
  function figures(o) {
    const q = at(o, t), wet = t <= o.drive + 1e-9, slip = o.perfect ? 'not at all' : wet ? num(q.slip, 2) + unit('m/s') : 'out';
    const f = [num(q.ang, 0) + '\u00b0', wet ? num(q.hands, 2) + unit('m/s') : 'forward', wet ? num(q.force, 0) + unit('N') : '\u2013', num(q.speed, 2) + unit('m/s')];
    if (M.oars.some(p => p.slip)) f.push(o.slip || o.perfect ? slip : '\u2013');
    return f;
  }
  function draw() {
    M.scenes.forEach(drawScene); M.traces.forEach(drawTrace);
    M.oars.forEach((o, k) => figures(o).forEach((s, j) => el('v' + k + j).textContent = s));
    el('time').textContent = el('at').textContent = num(t, 2) + unit('s');
    el('angle').textContent = num(at(lead, t).ang, 0) + '\u00b0';
    el('scrub').value = Math.round(t / step);
    el('scrub').setAttribute('aria-valuetext', `${num(t, 2)} seconds, ${t <= lead.drive ? 'drive' : 'recovery'}`);
    all('.kf-b', root).forEach(b => Math.abs(b.dataset.frame * step - t) < step / 2 ? b.setAttribute('aria-current', 'true') : b.removeAttribute('aria-current'));
  }
  function go(time, say) {
    t = Math.max(0, Math.min(END, time)); draw();
    if (say) el('said').textContent = num(t, 2) + ' s. ' + M.oars.map(o => { const f = figures(o); return `${o.name} ${f[0]}, hands ${f[1]}, force ${f[2]}.`; }).join(' ');
  }
  let stop = END;
  function play(on, until) {
    playing = on; before = 0; stop = until || END;
    const b = el('play'); b.children[0].textContent = on ? '\u275a\u275a' : '\u25b6'; b.children[1].textContent = on ? 'Pause' : 'Play';
    if (!on) return go(t, true);
    if (t >= END - 1e-6) t = 0;
    requestAnimationFrame(tick);
  }
  function tick(now) {
    if (!playing) return;
    if (before) { const n = t + (now - before) / 1000 * el('rate').value; if (n >= stop) { t = stop; return play(false); } go(n); }
    before = now; requestAnimationFrame(tick);
  }
  const by = n => { if (playing) play(false); go((Math.round(t / step) + n) * step, true); };
  const stay = c => { cam = c; el(c).checked = true; draw(); };
  all('.keys>li', root).forEach(li => {
    const b = document.createElement('button');
    b.type = 'button'; b.className = 'kf-b'; b.dataset.frame = li.dataset.frame; b.append(...li.childNodes); li.append(b);
    b.onclick = () => { if (playing) play(false); go(b.dataset.frame * step, true); };
  });
  el('play').onclick = () => play(!playing);
  el('back').onclick = () => by(-1); el('fwd').onclick = () => by(1);
  el('scrub').oninput = e => { if (playing) play(false); go(e.target.value * step); };
  el('water').onchange = el('boat').onchange = e => stay(e.target.value);
  calm.onchange = () => calm.matches && playing && play(false);
  addEventListener('keydown', e => {
    const r = root.firstElementChild.getBoundingClientRect();
    if (!plain(e) || typing(e) || e.defaultPrevented || r.bottom < 60 || r.top > innerHeight - 60) return;
    const k = e.key.toLowerCase();
    if (k == ' ') play(!playing); else if (k == 'arrowright') by(1); else if (k == 'arrowleft') by(-1);
    else if (k == 'w') stay('water'); else if (k == 'b') stay('boat'); else return;
    e.preventDefault();
  });
  // on a lesson's screen it starts by itself, once, slowly, and stops at square
  const screen = root.closest('.scr');
  let begun = calm.matches;
  if (screen) screen.addEventListener('shown', () => { if (!begun) { begun = true; t = 0; play(true, M.square); } else if (playing) play(false); });
  root.querySelector('.live-part').hidden = false;
  draw();
});
