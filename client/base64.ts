/** The bytes of a base64 text; `atob` is there in every editor's host, desktop and web. */
export const bytesOf = (text: string): Uint8Array => Uint8Array.from(atob(text), (it) => it.charCodeAt(0));
