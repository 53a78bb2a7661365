// The computing runs beside the page: a long answer never holds up typing.
self.pithballReady = function () {
  self.postMessage({ ready: true });
};
self.onmessage = async function (e) {
  const m = e.data;
  if (m.module) {
    try {
      const go = new Go();
      // The module is compiled while it is unpacked; a Blob would send it through the browser's process and back.
      const stream = new Response(m.module).body.pipeThrough(new DecompressionStream("gzip"));
      const raw = new Response(stream, { headers: { "Content-Type": "application/wasm" } });
      const done = await WebAssembly.instantiateStreaming(raw, go.importObject);
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
