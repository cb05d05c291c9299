// A Keeper keeps a program between requests: started at the first, replaced after it ended by itself or grew past a size. It knows nothing of what the program does.
//
// No promise of one request is waited for in another: a runtime may never settle it there. So a program starts at once and tells its end by a call.

// The program's memory past which the next request gets a new one. An isolate has 128 MB for everything; a heap of WebAssembly never shrinks.
export const MOST_MEMORY = 64 * 1024 * 1024;

export class Keeper {
  // start(ended) gives { handle(request): Promise<Response>, size(): bytes } of a program that is ready, and calls ended(error) when it ends.
  constructor(start, most = MOST_MEMORY) {
    this.start = start;
    this.most = most;
    this.program = null;
  }

  // The program in use, or a new one: { handle, size, waiting: the calls that tell requests under way of its end }.
  take() {
    if (this.program) return this.program;
    const kept = { waiting: new Set(), over: null };
    const program = this.start((error) => {
      kept.over = error;
      this.drop(kept);
      for (const tell of kept.waiting) tell(error);
    });
    kept.handle = program.handle;
    kept.size = program.size;
    if (kept.over) throw kept.over;
    this.program = kept;
    return kept;
  }

  drop(kept) {
    if (this.program === kept) this.program = null;
  }

  // Answers a request. A program that ends meanwhile is an error for this request, and the next has a new one. What is under way in a program that grew too large
  // ends there.
  async handle(request) {
    const kept = this.take();
    let tell;
    const ended = new Promise((_, reject) => (tell = reject));
    kept.waiting.add(tell);
    try {
      return await Promise.race([kept.handle(request), ended]);
    } catch (error) {
      this.drop(kept);
      throw error;
    } finally {
      kept.waiting.delete(tell);
      if (!kept.over && kept.size() > this.most) this.drop(kept);
    }
  }
}
