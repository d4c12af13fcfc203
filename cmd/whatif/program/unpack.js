// unpack(text) makes the program of its packed text.
self.unpack = async text => {
	const bytesOf = text => {
		if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
		const plain = atob(text), bytes = new Uint8Array(plain.length);
		for (let i = 0; i < plain.length; i++) bytes[i] = plain.charCodeAt(i);
		return bytes;
	};
	const unpacked = new Blob([bytesOf(text)]).stream().pipeThrough(new DecompressionStream("gzip"));
	return new Uint8Array(await new Response(unpacked).arrayBuffer());
};
