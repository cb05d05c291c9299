// Bytes out of base64 text and out of streams.

export function bytes(base64) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(base64);
  const s = atob(base64);
  const b = new Uint8Array(s.length);
  for (let i = 0; i < s.length; i++) b[i] = s.charCodeAt(i);
  return b;
}

/** All of a stream. A reader of our own: handing the stream on as a Response takes longer. */
export async function gather(stream) {
  const pieces = [];
  let length = 0;
  for (const r = stream.getReader(); ;) {
    const { done, value } = await r.read();
    if (done) break;
    pieces.push(value);
    length += value.length;
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const p of pieces) {
    all.set(p, at);
    at += p.length;
  }
  return all;
}
