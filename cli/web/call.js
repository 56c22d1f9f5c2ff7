// The program that Emscripten made, as something to put files into and ask: one command line after another.
const loadlineCall = (made) => ({
  // A file, and the folders above it.
  put(path, content) {
    let folder = "";
    for (const part of path.split("/").slice(1, -1)) {
      folder += "/" + part;
      if (!made.FS.analyzePath(folder).exists) made.FS.mkdir(folder);
    }
    made.FS.writeFile(path, content);
  },
  run(words) {
    const text = words.join("\n");
    const size = made.lengthBytesUTF8(text) + 1;
    const at = made._malloc(size);
    made.stringToUTF8(text, at, size);
    const status = made._loadline_run(at);
    made._free(at);
    return { status, out: made.UTF8ToString(made._loadline_out()), err: made.UTF8ToString(made._loadline_err()) };
  },
});
if (typeof module !== "undefined") module.exports = loadlineCall;
