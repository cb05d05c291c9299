// The worker: hands requests to one of two programs, which answer everything, and puts the page in where they say so.
import "./wasm_exec.js";
import { Keeper } from "./keeper.mjs";
import json from "./json.wasm";
import workbook from "./workbook.wasm";

// What the library of the programs asks for.
globalThis.tryCatch = (f) => {
  try {
    return { result: f() };
  } catch (error) {
    return { error };
  }
};

// Starts a program, which is ready when this returns: its main function runs until it waits for requests.
function start(module, ended) {
  const go = new Go();
  const binding = {};
  let ready = false;
  const instance = new WebAssembly.Instance(module, { ...go.importObject, workers: { ready: () => (ready = true) } });
  // Its end comes by exit, or by a fault in the middle of whatever woke it up.
  go.exit = (code) => ended(new Error(`the program ended with ${code}`));
  const resume = go._resume.bind(go);
  go._resume = () => {
    try {
      resume();
    } catch (error) {
      ended(error);
      throw error;
    }
  };
  globalThis.context = { binding };
  go.run(instance).catch(ended);
  if (!ready) throw new Error("the program did not begin");
  return { handle: (request) => binding.handleRequest(request), size: () => instance.exports.mem.buffer.byteLength };
}

let keepers;

// Workbook files go to the program that knows them, wherever the request names them.
const wantsWorkbook = (request) =>
  request.method === "POST" && /spreadsheetml/i.test(`${request.headers.get("content-type")} ${request.headers.get("accept")}`);

// The answer to a request that a program did not survive: problem details like theirs.
function failed(request, error) {
  const id = request.headers.get("x-request-id");
  const body = {
    type: "/v1/problems#failed",
    title: "The program failed",
    status: 500,
    detail: String(error),
    hint: "send it again; if it fails again, send less at a time",
    request_id: /^[A-Za-z0-9_.-]{1,64}$/.test(id) ? id : "none",
  };
  const headers = { "content-type": "application/problem+json", "cache-control": "no-store", "x-content-type-options": "nosniff" };
  return new Response(JSON.stringify(body) + "\n", { status: 500, headers });
}

// The page lies beside the programs, packed and not. Which is meant, and under what headers, the program says.
async function withPage(response, env) {
  const name = response.headers.get("shimsheet-asset");
  if (!name) return response;
  const headers = new Headers(response.headers);
  headers.delete("shimsheet-asset");
  if (response.body === null || response.headers.get("content-length") === "0") {
    return new Response(null, { status: response.status, headers });
  }
  const asset = await env.ASSETS.fetch(`http://assets/${name}`);
  if (!asset.ok) return new Response("the page is not there\n", { status: 404 });
  return new Response(asset.body, { status: response.status, headers, encodeBody: headers.get("content-encoding") ? "manual" : "automatic" });
}

export default {
  async fetch(request, env) {
    keepers ??= [new Keeper((ended) => start(json, ended), env.MOST_MEMORY), new Keeper((ended) => start(workbook, ended), env.MOST_MEMORY)];
    try {
      const response = await keepers[wantsWorkbook(request) ? 1 : 0].handle(request);
      return await withPage(response, env);
    } catch (error) {
      return failed(request, error);
    }
  },
};
