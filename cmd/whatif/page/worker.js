// The worker that holds the engine. Before it stand the script that starts a Go program and the one
// that unpacks it. It starts the engine, asks it, and lets it warm itself while nobody asks.
(self => {
"use strict";
const tell = message => self.postMessage(message);

async function start({engine, files}) {
	const go = new self.Go();
	const {instance} = await WebAssembly.instantiate(await self.unpack(engine), go.importObject);
	// The program ends by itself only when it fails.
	go.run(instance).then(() => tell({panic: "it ended"}), fault => tell({panic: String(fault)}));
	const fault = JSON.parse(self.glassbriefOpen(files));
	if (fault?.panic) throw new Error(fault.panic);
	tell({ready: true});
}

// warm lets the engine warm itself in small pieces, between which messages come through.
function warm() {
	if (self.glassbriefWarm()) setTimeout(warm);
}

let warming = false;
self.onmessage = async ({data}) => {
	try {
		if (data.engine !== undefined) return await start(data);
		if (data.json) return tell({json: self.glassbriefJSON()});
		const reply = JSON.parse(data.rest ? self.glassbriefRest() : self.glassbriefAnswer(data.ask));
		if (reply.panic !== undefined) return tell({panic: reply.panic});
		if (data.rest) {
			tell({rest: reply});
			setTimeout(() => self.glassbriefIdle());
			return;
		}
		tell({reply});
		if (!warming) setTimeout(warm);
		warming = true;
	} catch (fault) { // an unhandled fault would be silent to the page
		tell({panic: String(fault?.message ?? fault)});
	}
};
})(self);
