# The worker under workerd by itself: workerd serve config.capnp. It listens on loopback; the page lies in assets.
using Workerd = import "/workerd/workerd.capnp";

const config :Workerd.Config = (
  services = [
    (name = "main", worker = .worker),
    (name = "assets", disk = (path = "assets", writable = false)),
  ],
  sockets = [(name = "http", address = "127.0.0.1:0", http = (), service = "main")],
);

const worker :Workerd.Worker = (
  modules = [
    (name = "worker.mjs", esModule = embed "worker.mjs"),
    (name = "keeper.mjs", esModule = embed "keeper.mjs"),
    (name = "wasm_exec.js", esModule = embed "wasm_exec.js"),
    (name = "json.wasm", wasm = embed "json.wasm"),
    (name = "workbook.wasm", wasm = embed "workbook.wasm"),
  ],
  compatibilityDate = "2026-11-17",
  bindings = [(name = "ASSETS", service = "assets")],
);
