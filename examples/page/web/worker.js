// The computing runs beside the page: a long answer never holds up typing.
self.pithballReady = function () {
  self.postMessage({ ready: true });
};
self.onmessage = async function (e) {
  const m = e.data;
  if (m.module) {
    try {
      const go = new Go();
      const stream = new Blob([m.module]).stream().pipeThrough(new DecompressionStream("gzip"));
      const done = await WebAssembly.instantiate(await new Response(stream).arrayBuffer(), go.importObject);
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
