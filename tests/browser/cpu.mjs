// Processor time that the threads of a page took: what a wait costs, whatever else the machine does.
import { readFileSync, readdirSync } from "node:fs";

const read = (file) => { try { return readFileSync(file, "utf8"); } catch { return ""; } };
const threads = (pid) => {
  let names = [];
  try { names = readdirSync(`/proc/${pid}/task`); } catch { /* gone */ }
  return names.map((tid) => ({ tid: +tid, name: read(`/proc/${pid}/task/${tid}/comm`).trim() }));
};

// The process below `root` that runs the page: the one with a worker. A browser has others, which run pages of its own.
export const processOf = (root) => {
  const parent = new Map();
  for (const pid of readdirSync("/proc").filter((n) => /^\d+$/.test(n)))
    parent.set(+pid, +(/\) \S (\d+)/.exec(read(`/proc/${pid}/stat`))?.[1] ?? 0));
  const below = (pid) => pid === root || (parent.get(pid) > 1 && below(parent.get(pid)));
  return [...parent.keys()].find((pid) => below(pid) && threads(pid).some((t) => t.name.startsWith("DedicatedWorker")));
};

// {page, worker, helpers}: milliseconds of the page's own thread, its worker, and all others (compiling, collecting).
export const cpuOf = (pid) => {
  const spent = { page: 0, worker: 0, helpers: 0 };
  for (const { tid, name } of threads(pid)) {
    const kind = tid === pid ? "page" : name.startsWith("DedicatedWorker") ? "worker" : "helpers";
    spent[kind] += +read(`/proc/${pid}/task/${tid}/schedstat`).split(" ")[0] / 1e6;
  }
  return spent;
};
export const since = (before, now) => Object.fromEntries(Object.keys(now).map((k) => [k, now[k] - before[k]]));

// What it holds that no other process does, MB.
export const memoryOf = (pid) => [...read(`/proc/${pid}/smaps_rollup`).matchAll(/Private_\w+:\s+(\d+)/g)]
  .reduce((sum, found) => sum + found[1] / 1024, 0);
