// A lesson: one screen at a time, guesses before reveals. Without this all is open.
(() => {
  const behind = $('behind'), screens = [...all('.scr'), ...all('#free'), behind];
  const asks = all('.ask'), stage = matchMedia('(min-width:60rem) and (min-height:30rem)'), SVG = 'http://www.w3.org/2000/svg';
  const told = typeof BroadcastChannel == 'function' && /^http/.test(location.protocol) ? new BroadcastChannel('lesson') : null;
  let here = 0;
  document.documentElement.classList.add('staged');
  all('.hold').forEach(h => h.classList.add('shut'));
  all('.papers').forEach(p => p.hidden = false);

  // ---- what is held back
  const number = s => parseFloat(s.replace(',', '.').replace('\u2212', '-'));
  const guesses = a => { const n = a.querySelector('.gb input'); return n ? n.value.trim().split(/[\s;]+/).map(number).filter(isFinite) : all('.hands', a).map(h => parseInt(h.value) || 0); };
  function said(a) {
    const n = a.querySelector('.gb input'), all_ = guesses(a), count = all_.reduce((s, v) => s + v, 0);
    if (!n) {
      const chosen = a.querySelector('input:checked'), rights = all('.choice', a).map(c => c.querySelector('input').value == a.dataset.answer);
      if (count) return `${all_.reduce((s, v, i) => s + (rights[i] ? v : 0), 0)} of ${count} hands were up for it. `;
      return !chosen ? '' : chosen.value == a.dataset.answer ? 'The guess was right. ' : `The guess was \u201c${chosen.value}\u201d. `;
    }
    const near = all_.filter(v => Math.abs(v - a.dataset.number) <= +a.dataset.tolerance + 1e-9).length;
    if (!all_.length) return '';
    if (all_.length > 1) return `${near} of ${all_.length} guesses lie within ${a.dataset.within} of it. `;
    return near ? `The guess lies within ${a.dataset.within} of it. ` : `The guess was ${n.value.trim().replace('-', '\u2212')}${a.querySelector('.gu').textContent}. `;
  }
  const screenOf = e => screens.find(s => s.contains(e));
  function reveal(a, quiet) {
    a.querySelector('.you').textContent = said(a);
    a.classList.add('open'); a.querySelector('.rev').hidden = true;
    all('.choice', a).forEach(c => c.classList.toggle('right', c.querySelector('input').value == a.dataset.answer));
    all(`[data-for=${a.id}]`).forEach(h => h.classList.remove('shut'));
    const s = screenOf(a);
    all('.stagepic', s).forEach(p => move(p, quiet || calm.matches));
    if (a.querySelector('.gb')) fall(a, quiet || calm.matches);
    if (quiet) return;
    a.querySelector('.after').focus({preventScroll: true});
    keep();
  }
  asks.forEach(a => { const b = a.querySelector('.rev'); b.hidden = false; b.onclick = () => reveal(a); });

  // ---- the reveal as motion: every line of the picture moves from before to after, and stops
  function move(picture, atOnce) {
    const now = all('.now *', picture), then = all('.then *', picture), places = ['d', 'x', 'y', 'x1', 'y1', 'x2', 'y2', 'cx', 'cy'];
    if (!then.length || now.length != then.length) return;
    picture.classList.add('moved');
    const split = s => s.match(/-?[\d.]+|[^-\d.]+/g) || [], moves = [];
    now.forEach((e, i) => places.forEach(p => {
      const a = e.getAttribute(p), b = then[i].getAttribute(p);
      if (a != null && b != null && a != b) { const x = split(a), y = split(b); if (x.length == y.length) moves.push({e, p, x, y}); }
    }));
    const at = u => moves.forEach(m => m.e.setAttribute(m.p, m.x.map((v, i) => !/\d/.test(v) ? v : (+v + (m.y[i] - v) * u).toFixed(2)).join('')));
    const end = () => { at(1); now.forEach((e, i) => { e.setAttribute('class', then[i].getAttribute('class')); if (e.tagName == 'text') e.textContent = then[i].textContent; }); };
    if (atOnce) return end();
    let began = 0;
    requestAnimationFrame(function step(time) {
      began = began || time;
      const u = Math.min(1, (time - began) / 2000);
      if (u == 1) return end();
      at(u * u * (3 - 2 * u)); requestAnimationFrame(step);
    });
  }
  // the class's numbers on a line, the answer falling among them
  function fall(a, atOnce) {
    const svg = a.querySelector('.spread'), vs = guesses(a), truth = +a.dataset.number, values = [...vs, truth];
    svg.replaceChildren();
    if (!vs.length) return;
    const low = Math.min(...values), high = Math.max(...values), X = v => 20 + (high > low ? (v - low) / (high - low) : .5) * 260;
    const add = (tag, set, text) => { const e = document.createElementNS(SVG, tag); for (const k in set) e.setAttribute(k, set[k]); if (text) e.textContent = text; svg.append(e); return e; };
    add('path', {class: 'axis', d: 'M8 38H292'});
    const stacked = {};
    vs.forEach(v => { const x = X(v).toFixed(0), k = stacked[x] = (stacked[x] || 0) + 1; add('circle', {class: 'guess', cx: X(v), cy: 38 - 9 * k + 3, r: 4.5}); });
    for (const v of new Set([low, high])) add('text', {class: 'mid', x: X(v), y: 54}, String(v).replace('-', '\u2212'));
    const mark = add('path', {class: 'truth', d: 'M0 0L-6 -11H6Z'}), to = y => mark.setAttribute('transform', `translate(${X(truth)} ${y})`);
    if (atOnce) return to(38);
    let began = 0;
    requestAnimationFrame(function step(time) { began = began || time; const u = Math.min(1, (time - began) / 900); to(38 * u * u); if (u < 1) requestAnimationFrame(step); });
  }

  // ---- turning
  const index = () => { if (stage.matches) return here; let b = 0; screens.forEach((s, i) => { if (s.getBoundingClientRect().top < innerHeight / 2) b = i; }); return b; };
  function turnTo(i, quiet) {
    here = Math.max(0, Math.min(screens.length - 1, i));
    const s = screens[here], h = s.querySelector('h1,h2');
    screens.forEach((o, k) => o.classList.toggle('on', k == here));
    if (!quiet || !stage.matches) s.scrollIntoView({behavior: 'instant'});
    s.dispatchEvent(new Event('shown'));
    if (quiet) return;
    if (h) { h.tabIndex = -1; h.focus({preventScroll: true}); }
    FRAGMENT.screen = s.id; keep();
  }
  // what is shut opens first: on its screen, and what a screen holds back for a question before it
  const shut = s => { const h = s.querySelector('.hold.shut'); return s.querySelector('.ask:not(.open)') || h && $(h.dataset.for); };
  function onward() { const a = shut(screens[here = index()]); if (a) reveal(a); else turnTo(here + 1); }
  const back = () => turnTo(index() - 1);
  all('.step a').forEach(a => a.onclick = e => { e.preventDefault(); a.rel == 'prev' ? back() : onward(); });
  function keep() {
    const open = asks.filter(a => a.classList.contains('open')).map(a => a.id.slice(3));
    open.length ? FRAGMENT.set.set('open', open.join('.')) : FRAGMENT.set.delete('open');
    asks.forEach(a => { const g = all('.hands,.gb input', a).map(i => i.value.trim()).join('_'); /[^_]/.test(g) ? FRAGMENT.set.set('g' + a.id.slice(3), g) : FRAGMENT.set.delete('g' + a.id.slice(3)); });
    keepState();
    tell();
  }
  const tell = () => told && told.postMessage({at: here, screen: screens[here].id, open: asks.filter(a => a.classList.contains('open')).map(a => a.id), last: screens.length - 1});
  if (told) told.onmessage = e => { if (e.data.do == 'on') onward(); else if (e.data.do == 'back') back(); else if (e.data.do == 'where') tell(); };

  const choose = (a, k) => {
    const c = all('.choice', a)[k]; if (!c) return false;
    c.querySelector('input').checked = true; c.querySelector('.hands').focus({preventScroll: true}); c.querySelector('.hands').select();
    return true;
  };
  addEventListener('keydown', e => {
    const t = e.target, s = screens[index()], a = s.querySelector('.ask:not(.open)'), field = t.matches && t.matches('.hands,.gb input'), k = e.key;
    if (!plain(e) || e.defaultPrevented || /^(TEXTAREA|SELECT)$/.test(t.tagName) || t.closest && t.closest('.set')) return;
    const control = /^(INPUT|BUTTON|SUMMARY|A)$/.test(t.tagName) && t.type != 'radio';
    if (k == 'PageDown' || k == 'PageUp') { if (s == behind && k == 'PageDown') return; k == 'PageDown' ? onward() : back(); }
    else if (field && k == 'Enter') { const fields = all('.hands', t.closest('.ask')), next = fields[fields.indexOf(t) + 1]; next && fields.some(f => f.value) ? next.focus() : reveal(t.closest('.ask')); }
    else if (field && (k == 'ArrowDown' || k == 'ArrowUp')) { const fields = all('.hands', t.closest('.ask')), next = fields[fields.indexOf(t) + (k == 'ArrowDown' ? 1 : -1)]; if (next) next.focus(); }
    else if (k.toLowerCase() == 'r' && shut(s)) reveal(shut(s));
    else if (field && k == 'Escape') t.blur();
    else if (field && k.length == 1 && !/[\d\s.,;\-]/.test(k)) { /* no letter belongs there */ }
    else if (field) return;
    else if (!control && (k == 'ArrowRight' || k == 'ArrowDown' || k == 'Enter' || k == ' ')) { if (s == behind) return; onward(); }
    else if (!control && (k == 'ArrowLeft' || k == 'ArrowUp')) { if (s == behind && k == 'ArrowUp') return; back(); }
    else if (a && !control && /^[1-9]$/.test(k) && a.querySelector('.choice')) { if (!choose(a, k - 1)) return; }
    else if (a && !control && /^[\d.\-]$/.test(k) && a.querySelector('.gb')) { a.querySelector('.gb input').focus({preventScroll: true}); return; } // the digit goes in there
    else return;
    e.preventDefault();
  });
  all('.papers button').forEach(b => b.onclick = () => { document.documentElement.dataset.paper = b.dataset.paper; print(); delete document.documentElement.dataset.paper; });

  // ---- a screen that would overflow is set closer, then its words go on over the next one
  function fit() {
    if (!stage.matches) return;
    screens.forEach(s => {
      const body = s.querySelector('.body'), was = s.classList.contains('on');
      if (!body) return;
      s.classList.remove('tight'); s.classList.add('on');
      // the longest that is said of a class's guesses has its room from the start
      const yous = all('.you', body).filter(y => !y.textContent);
      yous.forEach(y => y.textContent = '00 of 00 guesses lie within 0.0 cm of it. ');
      const over = () => all('.left>*,.pic>*', body).some(x => { const r = x.getBoundingClientRect(), b = body.getBoundingClientRect(); return r.height && (r.top < b.top - 2 || r.bottom > b.bottom + 2); });
      if (over()) s.classList.add('tight');
      yous.forEach(y => y.textContent = '');
      s.classList.toggle('on', was);
    });
  }
  FRAGMENT.set.forEach((v, key) => {
    const a = /^g\d+$/.test(key) && $('ask' + key.slice(1));
    if (a) v.split('_').forEach((x, i) => { const f = all('.hands,.gb input', a)[i]; if (f) f.value = x; });
  });
  (FRAGMENT.set.get('open') || '').split('.').forEach(n => { const a = n && $('ask' + n); if (a && a.matches('.ask')) reveal(a, true); });
  const from = screens.findIndex(s => s.id == FRAGMENT.screen);
  fit(); addEventListener('resize', fit);
  turnTo(Math.max(0, from), true);
  tell();
  addEventListener('scrollend', () => { if (stage.matches) return; const id = screens[here = index()].id; if (id != FRAGMENT.screen) { FRAGMENT.screen = id; keep(); } });
})();
