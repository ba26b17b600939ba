/** The engine in a thread of its own, so that the page never waits for it. Messages in: {id, call, ...}; out:
 *  {id, result} or {id, fault}. The first is `open`, with the addresses the page was given. */
let planner = null;

const calls = {
  async open({ runtime, archive, lock }) {
    const { loadPyodide } = await import(`${runtime}pyodide.mjs`);
    const [python, packed] = await Promise.all([
      loadPyodide({ indexURL: new URL(runtime, self.location.origin).href, lockFileContents: lock }),
      fetch(archive).then((answer) => (answer.ok ? answer.arrayBuffer() : Promise.reject(new Error(answer.statusText)))),
    ]);
    python.unpackArchive(packed, "zip", { extractDir: "/engine" });
    python.runPython(START);
    planner = { plan: python.globals.get("plan"), answer: python.globals.get("answer") };
    return true;
  },
  plan: ({ document, nominal, units }) => planner.plan(JSON.stringify(document), Boolean(nominal), units),
  answer: ({ part, measured }) => JSON.parse(planner.answer(part, JSON.stringify(measured))),
};

const START = `
import json, sys
sys.path.insert(0, "/engine")
from procedures.replanning import Planner
planner = None
def plan(document, nominal, units):
    global planner
    planner = Planner(json.loads(document), nominal=nominal, units=units)
def answer(part, measured):
    return json.dumps(planner.answer(part, json.loads(measured)))
`;

let before = Promise.resolve();
self.onmessage = ({ data: { id, call, ...given } }) => {
  before = before.then(async () => {
    try {
      self.postMessage({ id, result: await calls[call](given) });
    } catch (error) {
      self.postMessage({ id, fault: String(error?.message ?? error) });
    }
  });
};
