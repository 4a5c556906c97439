// Live pages in a browser: node live.mjs BROWSER PROGRAM CASES.json. Prints what is wrong, a
// line each, and what was measured as "measured ...". One driver for both browsers.
import {readFileSync, writeFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import puppeteer from 'puppeteer-core';

const [browserName, program, casesFile] = process.argv.slice(2);
const cases = JSON.parse(readFileSync(casesFile)), chrome = browserName == 'chrome';
const browser = await puppeteer.launch({browser: browserName, executablePath: program, headless: true,
  args: chrome ? ['--no-sandbox', '--disable-gpu'] : []});
const wrong = (where, what) => console.log(`${browserName}: ${where}: ${what}`);
const address = file => 'file://' + file;

async function open(where, file, before) {
  const page = await browser.newPage();
  page.on('console', m => wrong(where, 'console: ' + m.text()));
  page.on('pageerror', e => wrong(where, 'error: ' + e.message));
  page.on('request', r => { if (/^(https?|wss?|ftp):/.test(r.url())) wrong(where, 'asked for ' + r.url()); });
  if (before) await before(page);
  await page.goto(address(file));
  return page;
}
// the policy forbids making functions of text, so waiting is done here
async function until(page, what, f, ...args) {
  for (const end = Date.now() + 20000; Date.now() < end;) {
    if (await page.evaluate(f, ...args)) return true;
    await new Promise(r => setTimeout(r, 20));
  }
  throw new Error(`never: ${what}; it says ${await page.$eval('#state', e => e.textContent)}; ${await page.$eval('#wrong', e => e.textContent)}`);
}
const state = page => page.$eval('#state', e => e.textContent);
const answer = page => page.$eval('#answer', e => e.childNodes.length ? [...e.childNodes].filter(n => n.className != 'assent').map(n => n.textContent).join('') : '');
const settled = page => until(page, 'settled', () => /every number as it was sent|other numbers|^(As sent\. )?Run in/.test(document.getElementById('state').textContent) || !document.getElementById('wrong').hidden);
async function type(page, selector, text) {
  await page.focus(selector);
  await page.$eval(selector, e => e.select());
  await page.keyboard.type(text);
  await page.keyboard.press('Tab');
}
async function step(where, f) { try { await f(); } catch (e) { wrong(where, e.message); } }

// every study gives in the page what it gave natively, to the last bit
for (const c of cases.studies) await step(c.name, async () => {
  const began = Date.now(), page = await open(c.name, c.file);
  await settled(page);
  const says = await state(page);
  if (!/every number as it was sent/.test(says)) wrong(c.name, `says ${says} ${await page.$eval('#wrong', e => e.textContent)}`);
  console.log(`measured ${browserName} ${c.name}: run again ${Date.now() - began} ms after opening`);
  await page.close();
});

// a page whose record was altered says so
await step('altered', async () => {
  const page = await open('altered', cases.altered);
  await settled(page);
  if (!/other numbers than the page was sent with: speed\./.test(await state(page))) wrong('altered', 'a difference is not told: ' + await state(page));
  await page.close();
});

// a number typed by the keyboard moves answer and tables as the native run with it does
await step('numbers', async () => {
  const page = await open('numbers', cases.main);
  await settled(page);
  const sent = await page.$eval('main', e => e.innerText), was = await answer(page);
  await type(page, '#set-' + cases.param, cases.value);
  await until(page, 'a run', () => /^Run in/.test(document.getElementById('state').textContent));
  if (await answer(page) != cases.answer) wrong('numbers', `the answer is ${await answer(page)}, natively ${cases.answer}`);
  const told = await page.$$eval('main td', cells => cells.map(c => c.firstChild ? c.firstChild.textContent : '')), missing = cases.cells.filter(x => !told.includes(x));
  if (missing.length) wrong('numbers', 'the tables lack ' + missing);
  if (!await page.$('.assent')) wrong('numbers', 'nothing says what was sent');
  const hash = await page.evaluate(() => location.hash);
  if (hash != `#&p.${cases.param}=${cases.value}`) wrong('numbers', 'the address keeps ' + hash);
  await page.reload();
  await until(page, 'the state of the address', () => /^Run in/.test(document.getElementById('state').textContent));
  if (await answer(page) != cases.answer) wrong('numbers', 'a reload loses the state');
  await page.click('#assent');
  await until(page, 'as sent', () => /^As sent/.test(document.getElementById('state').textContent));
  if (await answer(page) != was || await page.$eval('main', e => e.innerText) != sent) wrong('numbers', '"as sent" does not bring back what was sent');

  // outside the limits: the native sentence, the last good results, and on it goes
  await type(page, '#set-' + cases.param, '9999');
  await until(page, 'a refusal', () => !document.getElementById('wrong').hidden);
  const says = await page.$eval('#wrong', e => e.textContent);
  if (!says.includes(cases.refusal)) wrong('numbers', `refused with ${says}, natively ${cases.refusal}`);
  if (await answer(page) != was || !await page.$('main.stale')) wrong('numbers', 'a refusal does not keep the last results, marked');
  await type(page, '#set-' + cases.param, cases.value);
  await until(page, 'a run after a refusal', () => /^Run in/.test(document.getElementById('state').textContent));
  if (await page.$('.stale') || await answer(page) != cases.answer) wrong('numbers', 'a refusal sticks');
  await page.close();
});

// the text: a fault at its place, a change that runs, a loop that is stopped
await step('text', async () => {
  const page = await open('text', cases.main);
  await settled(page);
  const write = text => page.$eval('#source', (e, t) => { e.value = t; e.focus(); }, text);
  const text = await page.$eval('#source', e => e.value), was = await answer(page);
  await write(text.replace('answer(', 'answerr('));
  await page.keyboard.down('Control'); await page.keyboard.press('Enter'); await page.keyboard.up('Control');
  await until(page, 'a message', () => !document.getElementById('wrongline').hidden);
  if (!(await page.$eval('#wrongline', e => e.textContent)).includes('nothing is called "answerr"')) wrong('text', 'another message');
  if (!(await page.$eval('#source', e => e.value.slice(e.selectionStart, e.selectionEnd))).startsWith('answerr(')) wrong('text', 'its line is not marked');
  const seen = await page.evaluate(() => {
    const area = document.getElementById('source'), says = document.getElementById('wrongline').getBoundingClientRect();
    const height = parseFloat(getComputedStyle(area).lineHeight), line = area.value.slice(0, area.selectionStart).split('\n').length;
    const y = area.getBoundingClientRect().top + line * height - area.scrollTop;
    return document.activeElement == area && says.top >= 0 && y > says.bottom && y < innerHeight;
  });
  if (!seen) wrong('text', 'the message and its line are not seen together');
  for (const [name, hostile] of Object.entries(cases.hostile)) {
    await write(hostile);
    await page.click('#runtext');
    await until(page, name, () => (!document.getElementById('wrongline').hidden && !/answerr/.test(document.getElementById('wrongline').textContent)) || !document.getElementById('wrong').hidden || !document.getElementById('stop').hidden);
    if (await page.$eval('#stop', e => !e.hidden)) { await page.click('#stop'); await until(page, name + ' stopped', () => !document.getElementById('wrong').hidden); }
    if (await page.evaluate(() => typeof hostile !== 'undefined')) wrong(name, 'text was run');
    await write(text.replace('answer("', 'answer("Changed. '));
    await page.click('#runtext');
    await until(page, 'a run after ' + name, () => /^Changed\. /.test(document.getElementById('answer').textContent) && /^Run in/.test(document.getElementById('state').textContent));
    await write('x = 1\nanswerr(1)'); await page.click('#runtext');
    await until(page, 'a fault after ' + name, () => /answerr/.test(document.getElementById('wrongline').textContent) && !document.getElementById('wrongline').hidden);
  }
  await write(text.replace('answer("', 'answer("Changed. '));
  await page.click('#runtext');
  await until(page, 'the change', () => /^Run in/.test(document.getElementById('state').textContent));

  // saved, the page opens with the change and its own numbers
  await page.evaluate(() => { window.kept = []; URL.createObjectURL = b => { window.kept.push(b); return 'blob:null/0'; }; HTMLAnchorElement.prototype.click = () => { }; });
  await page.click('#savestudy'); await page.click('#savepage');
  const [study, saved] = await page.evaluate(() => Promise.all(window.kept.map(b => b.text())));
  if (study != text.replace('answer("', 'answer("Changed. ')) wrong('save', 'the study saved is not the text');
  const file = join(dirname(cases.main), browserName + '-saved.html');
  writeFileSync(file, saved);
  await page.close();
  const again = await open('saved', file);
  await settled(again);
  if (!/every number as it was sent/.test(await state(again)) || await answer(again) != 'Changed. ' + was) wrong('saved', `it says ${await state(again)}, ${await answer(again)}`);
  await again.close();
});

// whatever stands in the address, the page stands
for (const hash of ['#p.', '#&p.=', '#&p.' + cases.param + '=', '#&p.' + cases.param + '=%', '#&p.' + cases.param + '=<b>x', '#&p.__proto__=1', '#&p.' + cases.param + '=' + '9'.repeat(5000), '#&&&=&=&p.x=%00'])
  await step('address ' + hash.slice(0, 30), async () => {
    const page = await open('address', cases.main + hash);
    await settled(page);
    if (!(await answer(page)).length || await page.$('#answer b x')) wrong('address', 'the page does not stand');
    await page.close();
  });

// read without scripts, and without the means to run the engine
await step('read', async () => {
  if (chrome) { // the other cannot be told to run no scripts
    const still = await open('no scripts', cases.main, p => p.setJavaScriptEnabled(false));
    if (!await still.$eval('#numbers', e => e.hidden) || await answer(still) != cases.sent) wrong('no scripts', 'it does not read as it was sent');
    await still.close();
  }
  const page = await open('no engine', cases.main, p => p.evaluateOnNewDocument(() => { delete window.WebAssembly; }));
  if (!(await page.$eval('body', e => e.innerText)).includes('stands as it was sent')) wrong('no engine', 'it does not say so');
  if (!await page.$eval('#numbers', e => e.hidden) || await answer(page) != cases.sent) wrong('no engine', 'it does not read as it was sent');
  await page.close();
});

// seen: nothing wider than a phone, and axe finds nothing
for (const [width, scheme] of [[390, 'light'], [390, 'dark'], [1280, 'light'], [1280, 'dark']]) await step(`seen at ${width}, ${scheme}`, async () => {
  const page = await open('seen', cases.main, async p => {
    if (chrome) { await p.setViewport({width, height: 844, hasTouch: width < 500}); await p.emulateMediaFeatures([{name: 'prefers-color-scheme', value: scheme}, {name: 'prefers-reduced-motion', value: 'reduce'}]); }
    else await p.setViewport({width, height: 844});
  });
  await settled(page);
  await type(page, '#set-' + cases.param, cases.value);
  await until(page, 'a run', () => /^Run in/.test(document.getElementById('state').textContent));
  if (await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)) wrong('seen', `wider than ${width}`);
  await page.evaluate(readFileSync(join(import.meta.dirname, 'node_modules/axe-core/axe.min.js'), 'utf8') + ';0');
  const found = await page.evaluate(() => axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']}).then(r => r.violations.map(v => v.id + ' ' + v.nodes[0].html.slice(0, 150) + ' ' + v.nodes[0].failureSummary.slice(0, 200))));
  found.forEach(f => wrong(`axe at ${width}, ${scheme}`, f));
  await page.close();
});
await browser.close();
