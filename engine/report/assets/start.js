// Without this script the page shows everything; with it, some of it answers.
'use strict';
const DATA = JSON.parse(document.getElementById('data').textContent);
const $ = id => document.getElementById(id), all = (s, of) => [...(of || document).querySelectorAll(s)];
const NARROW = '\u202f';
document.documentElement.classList.add('js');
// a figure as the study prints it: halves away from nought, a true minus, no minus nought
function num(v, d) {
  const p = 10 ** d, w = Math.abs(v) * p, s = (Math.floor(w + .5 + 1e-9) / p).toFixed(d);
  return (v < 0 && +s ? '\u2212' : '') + s;
}
const unit = u => u == 'deg' ? '\u00b0' : u ? NARROW + u.replace(/ /g, NARROW) : '';
// keys belong to the page only where no control has the focus
const typing = e => /^(INPUT|SELECT|TEXTAREA|BUTTON|SUMMARY|A|PRE)$/.test(e.target.tagName);
const plain = e => !(e.ctrlKey || e.metaKey || e.altKey);
const calm = matchMedia('(prefers-reduced-motion:reduce)');
// state lives in the address's fragment: #screen&length=292, only what differs from the base
const FRAGMENT = (() => {
  const plain = s => { try { return decodeURIComponent(s); } catch { return ''; } };
  const [screen, ...pairs] = location.hash.slice(1).split('&').map(plain);
  return {screen, set: new Map(pairs.map(p => { const i = p.indexOf('='); return [p.slice(0, i), p.slice(i + 1)]; }))};
})();
const keepState = () => history.replaceState(null, '', '#' + encodeURIComponent(FRAGMENT.screen) + [...FRAGMENT.set].map(([k, v]) => `&${encodeURIComponent(k)}=${encodeURIComponent(v)}`).join(''));
