// One program, asked one command line after another. Begins with what Emscripten made.
let program = null;
const ready = (module, files) => loadlineModule({
  instantiateWasm: (imports, done) => {
    WebAssembly.instantiate(module, imports).then((instance) => done(instance, module));
    return {};
  },
  print: () => {}, printErr: () => {},
}).then((made) => {
  for (const [path, text] of files) {
    const parts = path.split("/").slice(1, -1);
    let folder = "";
    for (const part of parts) {
      folder += "/" + part;
      if (!made.FS.analyzePath(folder).exists) made.FS.mkdir(folder);
    }
    made.FS.writeFile(path, text);
  }
  program = made;
});
const run = (words) => {
  const text = words.join("\n");
  const size = program.lengthBytesUTF8(text) + 1;
  const at = program._malloc(size);
  program.stringToUTF8(text, at, size);
  const status = program._loadline_run(at);
  program._free(at);
  return { status, out: program.UTF8ToString(program._loadline_out()),
    err: program.UTF8ToString(program._loadline_err()) };
};
const answer = ({ id, words, text, page }) => {
  const { FS } = program;
  FS.writeFile("/case/case.toml", text);
  const file = "/case/page.html";
  if (FS.analyzePath(file).exists) FS.unlink(file);
  const began = Date.now();
  const told = run(page ? [...words, "--page", file] : words);
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
