// unpack(text) makes the program of its packed text; pack.go says how it is packed.
self.unpack = async text => {
	let packed;
	if (Uint8Array.fromBase64) {
		packed = Uint8Array.fromBase64(text);
	} else {
		const plain = atob(text);
		packed = new Uint8Array(plain.length);
		for (let i = 0; i < plain.length; i++) packed[i] = plain.charCodeAt(i);
	}
	const bare = new Uint8Array(await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer());
	return self.unrepeat(bare);
};
// Apart from what waits, for it is a loop over millions of bytes.
self.unrepeat = from => {
	const head = new DataView(from.buffer, from.byteOffset), program = new Uint8Array(head.getUint32(0, true));
	const starts = [], kinds = 7;
	for (let kind = 0, at = 4 * (kinds + 1); kind < kinds; kind++) {
		starts.push(at);
		at += head.getUint32(4 * (kind + 1), true);
	}
	let [token, plain, count, length, low, middle, high] = starts;
	const tokens = plain, plains = count;
	let at = 0, last = 1, second = 2, third = 3;
	while (token < tokens) {
		const step = from[token++];
		let n = step >> 4 & 3;
		if (n === 3) {
			let more;
			do n += more = from[count++]; while (more === 255);
		}
		for (const end = at + n; at < end;) program[at++] = from[plain++];
		switch (step >> 6) {
		case 1: [last, second] = [second, last]; break;
		case 2: [last, second, third] = [third, last, second]; break;
		case 3: [last, second, third] = [from[low++] | from[middle++] << 8 | from[high++] << 16, last, second]; break;
		}
		n = (step & 15) + 3;
		if (n === 18) {
			let more;
			do n += more = from[length++]; while (more === 255);
		}
		for (const end = at + n; at < end; at++) program[at] = program[at - last];
	}
	program.set(from.subarray(plain, plains), at);
	return program;
};
