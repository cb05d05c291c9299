// What keeps the programs of the edge: started once, replaced after an end by itself, past a size, and after a start that failed.
import test from "node:test";
import assert from "node:assert/strict";
import { Keeper } from "../../web/worker/keeper.mjs";

// A program that answers with its number, and can be made to end or to grow.
function programs() {
  const made = [];
  const start = (ended) => {
    const program = { number: made.length, bytes: 10, end: () => ended(new Error("the program ended")), handle: async (request) => request(program), size: () => program.bytes };
    made.push(program);
    return program;
  };
  return { made, start };
}
const number = async (p) => p.number;

test("one program for all requests", async () => {
  const { made, start } = programs();
  const keeper = new Keeper(start, 100);
  assert.deepEqual(await Promise.all([keeper.handle(number), keeper.handle(number), keeper.handle(number)]), [0, 0, 0]);
  assert.equal(await keeper.handle(number), 0);
  assert.equal(made.length, 1);
});

test("an answer that fails is the request's own error, and the next has a new program", async () => {
  const { start } = programs();
  const keeper = new Keeper(start, 100);
  await assert.rejects(keeper.handle(() => Promise.reject(new Error("the fault"))), /the fault/);
  assert.equal(await keeper.handle(number), 1);
});

test("a program that ends under a request that would wait for ever", async () => {
  const { start } = programs();
  const keeper = new Keeper(start, 100);
  const waiting = keeper.handle((p) => {
    setTimeout(p.end, 5);
    return new Promise(() => {});
  });
  await assert.rejects(waiting, /the program ended/);
  assert.equal(await keeper.handle(number), 1);
});

test("a program that ends between requests is not asked again", async () => {
  const { made, start } = programs();
  const keeper = new Keeper(start, 100);
  await keeper.handle(number);
  made[0].end();
  assert.equal(await keeper.handle(number), 1);
});

test("a program that grew past the size is replaced after its answer", async () => {
  const { start } = programs();
  const keeper = new Keeper(start, 100);
  const grown = await keeper.handle(async (p) => {
    p.bytes = 101;
    return p.number;
  });
  assert.equal(grown, 0);
  assert.equal(await keeper.handle(number), 1);
  assert.equal(await keeper.handle(number), 1);
});

test("a start that fails is tried again for the next request", async () => {
  const { start } = programs();
  let times = 0;
  const keeper = new Keeper((ended) => {
    if (times++ === 0) throw new Error("no start");
    return start(ended);
  }, 100);
  await assert.rejects(keeper.handle(number), /no start/);
  assert.equal(await keeper.handle(number), 0);
});
