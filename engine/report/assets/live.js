// A page whose numbers can be changed: the engine runs the study anew in a worker, and the
// page takes over what it tells. What is wrong leaves the last good results where they are.
(() => {
  const id = x => document.getElementById(x), every = (s, of) => [...(of || document).querySelectorAll(s)];
  const sent = document.documentElement.outerHTML; // before anything moves
  const carried = JSON.parse(id('live').textContent);
  const asSent = document.querySelector('.sheet, main').cloneNode(true);
  let end = new AbortController();
  const listen = (type, f) => window.addEventListener(type, f, {signal: end.signal});
  view(listen);
  if (typeof WebAssembly != 'object' || typeof DecompressionStream != 'function') return reading();

  document.documentElement.classList.add('alive');
  every('.change[hidden], .change > [hidden]#text').forEach(s => s.hidden = false);
  const source = id('source');
  source.value = carried.text;

  // ---- the worker
  const url = URL.createObjectURL(new Blob([id('loader').textContent + id('worker').textContent], {type: 'text/javascript'}));
  let worker, module, ready = false, busy = null, next = null, number = 0, good = null, clock = 0;
  function start() {
    ready = false;
    worker = new Worker(url);
    worker.onmessage = e => hear(e.data);
    worker.onerror = e => { e.preventDefault(); reading(); };
    worker.postMessage(module ? {module} : {packed: id('engine').textContent});
  }
  function hear(m) {
    if (m.module) { module = m.module; return; }
    if (m.ready) { ready = true; return next ? run() : undefined; }
    if (m.ended) {
      if (!module) return reading();
      const lost = busy; busy = null; start();
      if (lost) tellWrong([{text: 'the study stopped: it wanted more memory than a page may have\ntype  fewer points, or run it in a window with thole run'}]);
      return;
    }
    if (m.step) return progress(m);
    if (!busy || m.id != busy.id) return;
    const asked = busy, took = performance.now() - asked.began;
    busy = null;
    settle(asked, m, took);
    if (next) run();
  }
  function reading() { // the page as it was sent
    const note = document.createElement('p');
    note.className = 'asset';
    note.textContent = 'This browser cannot run the engine: the page stands as it was sent.';
    (document.querySelector('header') || document.querySelector('.cover') || document.body).append(note);
    every('#numbers, #text').forEach(s => s.hidden = true);
  }

  // ---- asking
  function settings() {
    const set = {...carried.set};
    every('.set').forEach(c => {
      const value = c.querySelector('input,select').value, name = c.dataset.name;
      if (value !== shownValue(name)) set[name] = value;
    });
    return set;
  }
  const shownValue = name => { const c = carried.values[name]; return c === undefined ? null : c; };
  function ask(first, fromText) {
    next = {fromText, text: source.value, set: first ? {...carried.set} : settings(), first: !!first};
    if (ready && !busy) run();
  }
  function run() {
    busy = {...next, id: ++number, began: performance.now()};
    next = null;
    worker.postMessage({study: JSON.stringify({id: busy.id, name: carried.name, text: busy.text, set: busy.set, files: carried.files, command: carried.command, version: carried.version, run: changed() ? '' : carried.run, recorded: busy.first ? carried.results : ''})});
    clearTimeout(clock);
    clock = setTimeout(() => { if (busy) { id('stop').hidden = false; say('Rowing.'); } }, 300);
    setTimeout((n => () => { if (busy && busy.id == n) stop('stopped at the time limit, 10 min'); })(busy.id), 600000);
  }
  function progress(m) {
    if (!busy || m.id != busy.id) return;
    const t = (performance.now() - busy.began) / 1000, whole = m.of > m.done && m.done > 0 ? t * m.of / m.done : 0;
    if (t > .3) say(`${m.step}: ${m.done} of ${m.of}` + (whole > 2 ? `, about ${Math.ceil(whole)} s in all. Stop it, or wait.` : '.'));
  }
  function stop(why) {
    worker.terminate(); busy = null; next = null; clearTimeout(clock); id('stop').hidden = true;
    start();
    tellWrong([{text: why || 'stopped; the results above are those of before'}]);
  }
  id('stop').onclick = () => stop();

  // ---- what came back
  const say = text => id('state').textContent = text;
  function settle(asked, m, took) {
    clearTimeout(clock); id('stop').hidden = true;
    if (m.errors && m.errors.length) { mark(); return tellWrong(m.errors, asked.text !== carried.text, asked.fromText); }
    every('.wrong').forEach(w => w.hidden = true);
    every('.stale').forEach(s => s.classList.remove('stale'));
    if (asked.first) {
      if (m.differs && m.differs.length) say(`This engine gives other numbers than the page was sent with: ${m.differs.join(', ')}. The page shows what was sent.`);
      else say('Run again in this page: every number as it was sent.');
      good = m; mark();
      return changed() ? ask() : undefined;
    }
    good = m;
    takeOver(m);
    mark();
    const n = changed();
    say((n ? '' : 'As sent. ') + `Run in ${took < 100 ? 'under 0.1' : (took / 1000).toFixed(1)} s.`);
    keep();
  }
  function takeOver(m) {
    const fresh = new DOMParser().parseFromString(m.body, 'text/html');
    const was = document.querySelector('.sheet:not(.change)'), now = fresh.querySelector('.sheet');
    end.abort(); end = new AbortController();
    const at = scrollY, focus = document.activeElement && document.activeElement.id, opened = every('details').map(d => d.open);
    const swap = (s, from) => { const a = document.querySelector(s), b = from.querySelector(s); if (a && b && !a.isEqualNode(b)) a.replaceWith(document.adoptNode(b)); };
    if (was && now) swap('.sheet > header', fresh);
    const names = x => every('.set', x).map(c => c.dataset.name + '|' + every('input', c).map(i => i.min + ',' + i.max) + every('option', c).map(o => o.value)).join(';');
    if (names(document) != names(fresh)) { swap('#numbers', fresh); id('numbers').hidden = false; wire(); }
    swap('main', fresh);
    every('details').forEach((d, i) => { if (opened[i]) d.open = true; });
    id('data').textContent = m.data;
    document.title = m.title;
    beside();
    view(listen);
    if (focus && id(focus) && document.activeElement == document.body) id(focus).focus({preventScroll: true});
    scrollTo({top: at, behavior: 'instant'});
  }
  // what was sent stands beside what changed
  function beside() {
    const add = (el, text) => { const s = document.createElement('span'); s.className = 'assent'; s.textContent = 'as sent ' + text; el.append(s); };
    const a = document.querySelector('#answer'), b = asSent.querySelector('#answer');
    if (a && b && a.textContent != b.textContent) { const s = document.createElement('span'); s.className = 'assent'; s.textContent = 'As sent: ' + b.textContent; a.append(s); }
    const tables = every('main table'), before = every('main table', asSent.parentNode || asSent);
    const old = before.length ? before : every('table', asSent);
    tables.forEach((t, i) => {
      const o = old[i];
      if (!o || t.rows.length != o.rows.length || (t.caption && o.caption && t.caption.textContent != o.caption.textContent)) return;
      [...t.rows].forEach((r, y) => [...r.cells].forEach((c, x) => {
        const w = o.rows[y].cells[x];
        if (w && c.tagName == 'TD' && /\d/.test(c.textContent) && c.textContent != w.textContent) add(c, w.textContent);
      }));
    });
  }
  function changed() {
    let n = source.value === carried.text ? 0 : 1;
    every('.set').forEach(c => { if (c.querySelector('input,select').value !== shownValue(c.dataset.name)) n++; });
    return n;
  }
  function mark() {
    every('.set').forEach(c => {
      const v = shownValue(c.dataset.name), moved = v !== null && c.querySelector('input,select').value !== v, was = c.querySelector('.was');
      c.classList.toggle('moved', moved); was.hidden = !moved; was.textContent = moved ? 'As sent: ' + v : '';
    });
    id('assent').hidden = !changed();
  }
  function tellWrong(errors, inText, fromText) {
    const box = id(inText ? 'wrongline' : 'wrong');
    every('.wrong').forEach(w => w.hidden = true);
    box.replaceChildren(...errors.map(e => { const p = document.createElement('pre'); p.textContent = e.text; return p; }));
    box.hidden = false;
    every('.sheet:not(.change) > header #answer, main').forEach(s => s.classList.add('stale'));
    say('That cannot be run; below stands the last that could.');
    const line = errors[0].line;
    if (inText && line) {
      const lines = source.value.split('\n'), from = lines.slice(0, line - 1).join('\n').length + (line > 1 ? 1 : 0);
      source.setSelectionRange(from, from + (lines[line - 1] || '').length);
      if (fromText) { // message and line are seen together; whoever moves a number is left where they are
        source.focus({preventScroll: true});
        source.scrollTop = (line - 4) * parseFloat(getComputedStyle(source).lineHeight);
        box.scrollIntoView({block: 'start', behavior: 'instant'});
      }
    }
    mark();
  }

  // ---- controls
  let frame = 0;
  function wire() {
    every('.set').forEach(c => {
      const field = c.querySelector('input,select'), slide = c.querySelector('.slide');
      field.oninput = () => { if (slide && field.value !== '') slide.value = field.value; };
      field.onchange = () => ask();
      if (slide) slide.oninput = () => { field.value = slide.value; cancelAnimationFrame(frame); frame = requestAnimationFrame(() => ask()); };
    });
    id('stop').onclick = () => stop();
    id('assent').onclick = back;
  }
  function put(values) {
    every('.set').forEach(c => {
      const v = values[c.dataset.name], field = c.querySelector('input,select'), slide = c.querySelector('.slide');
      if (v === undefined) return;
      field.value = v; if (slide) slide.value = v;
    });
  }
  function back() { source.value = carried.text; put(carried.values); ask(); }
  id('runtext').onclick = () => ask(false, true);
  source.onkeydown = e => { if (e.key == 'Enter' && (e.ctrlKey || e.metaKey)) { e.preventDefault(); ask(false, true); } };

  // ---- the state in the address: what differs from what was sent, each as p.name=value
  function keep() {
    const pairs = location.hash.slice(1).split('&').filter(p => !p.startsWith('p.'));
    if (!pairs.length) pairs.push('');
    every('.set').forEach(c => { const v = c.querySelector('input,select').value; if (v !== shownValue(c.dataset.name)) pairs.push('p.' + encodeURIComponent(c.dataset.name) + '=' + encodeURIComponent(v)); });
    try { history.replaceState(null, '', '#' + pairs.join('&')); } catch { /* too fast for some browsers: the next change keeps it */ }
  }
  function addressed() {
    const values = {};
    for (const pair of location.hash.slice(1).split('&')) {
      const at = pair.indexOf('=');
      if (!pair.startsWith('p.') || at < 0) continue;
      try { values[decodeURIComponent(pair.slice(2, at))] = decodeURIComponent(pair.slice(at + 1)); } catch { /* not ours */ }
    }
    return values;
  }

  // ---- saving
  function save(name, type, parts) {
    const a = document.createElement('a');
    a.href = URL.createObjectURL(new Blob(parts, {type}));
    a.download = name; a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
  }
  id('savestudy').onclick = () => save(carried.name, 'text/plain', [source.value]);
  id('savepage').onclick = () => {
    if (!good) return;
    const fresh = new DOMParser().parseFromString(good.body, 'text/html'), page = new DOMParser().parseFromString(sent, 'text/html');
    for (const s of ['.sheet > header', '#numbers', 'main']) { const a = page.querySelector(s), b = fresh.querySelector(s); if (a && b) a.replaceWith(page.adoptNode(b)); }
    const values = {};
    every('.set').forEach(c => values[c.dataset.name] = c.querySelector('input,select').value);
    page.getElementById('data').textContent = good.data;
    page.getElementById('live').textContent = JSON.stringify({...carried, text: good.text, set: good.set, values, results: good.results}).replace(/</g, '\\u003c');
    page.title = good.title;
    save(carried.name.replace(/\.\w+$/, '') + '-live.html', 'text/html', ['<!DOCTYPE html>\n', page.documentElement.outerHTML]);
  };

  // first what was sent, to compare; then what the address asks for
  wire();
  start();
  ask(true);
  put(addressed());
  mark();
})();
