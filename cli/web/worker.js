// One program, asked one command line after another. Begins with what Emscripten made, and call.js.
let program = null, call = null;
const ready = (module, files) => loadlineModule({
  instantiateWasm: (imports, done) => {
    WebAssembly.instantiate(module, imports).then((instance) => done(instance, module));
    return {};
  },
  print: () => {}, printErr: () => {},
}).then((made) => {
  program = made;
  call = loadlineCall(made);
  for (const [path, text] of files) call.put(path, text);
});
const answer = ({ id, words, text, page }) => {
  const { FS } = program;
  FS.writeFile("/case/case.toml", text);
  const file = "/case/page.html";
  if (FS.analyzePath(file).exists) FS.unlink(file);
  const began = Date.now();
  const told = call.run(page ? [...words, "--page", file] : words);
  const drawn = page && FS.analyzePath(file).exists ? FS.readFile(file, { encoding: "utf8" }) : null;
  return { id, ...told, page: drawn, took: Date.now() - began };
};
let starting = null;
self.onmessage = ({ data }) => {
  if (data.module) {
    starting = ready(data.module, data.files);
    return;
  }
  starting.then(() => self.postMessage(answer(data)))
    .catch((fault) => self.postMessage({ id: data.id, status: 2, out: "", page: null, took: 0,
      err: `loadline: stopped by a fault of the program (${fault}); please report it with the case file\n` }));
};
