// The computing runs beside the page: a long answer never holds up typing.
self.pithballReady = function () {
  self.postMessage({ ready: true });
};
// Unpacked in one piece into its room: passing the pieces through a Response into the compiler takes twice the time of
// the processor. A server may have unpacked it on the way.
async function unpack(module) {
  const packed = new Uint8Array(module);
  if (packed[0] !== 0x1f || packed[1] !== 0x8b) return packed;
  const gunzip = new DecompressionStream("gzip"),
    to = gunzip.writable.getWriter(),
    from = gunzip.readable.getReader();
  const written = to.write(packed).then(() => to.close());
  const raw = new Uint8Array(new DataView(module).getUint32(module.byteLength - 4, true)); // gzip ends with its length
  for (let at = 0; ; ) {
    const { done, value } = await from.read();
    if (done) break;
    raw.set(value, at);
    at += value.length;
  }
  await written;
  return raw;
}
self.onmessage = async function (e) {
  const m = e.data;
  if (m.module) {
    try {
      const go = new Go();
      const done = await WebAssembly.instantiate(await unpack(m.module), go.importObject);
      go.run(done.instance);
    } catch (fault) {
      self.postMessage({ failed: String(fault) });
    }
    return;
  }
  const began = performance.now();
  const out = self.pithball(m.name, JSON.stringify(m.body));
  self.postMessage({ id: m.id, out: JSON.parse(out), millis: performance.now() - began });
};
