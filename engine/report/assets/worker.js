// The engine on a thread of its own. It is told a module, or the packed bytes of one, and
// from then on studies; each gets one answer with its number.
async function unpack(text) {
  const letters = atob(text), bytes = new Uint8Array(letters.length);
  for (let i = 0; i < letters.length; i++) bytes[i] = letters.charCodeAt(i);
  if (bytes[0] !== 0x1f) return unlzma(bytes); // else gzip, from a machine without xz
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'))).arrayBuffer();
}
onmessage = async e => {
  const m = e.data;
  if (m.study) return rerun(m.study);
  try {
    const module = m.module || await WebAssembly.compile(await unpack(m.packed));
    if (!m.module) postMessage({module});
    const go = new Go(), instance = await WebAssembly.instantiate(module, go.importObject);
    await go.run(instance);
    postMessage({ended: true});
  } catch (err) { postMessage({ended: true, why: String(err)}); }
};
