// Holds FHIR files against the npm package "fhir": node validate_fhir.js FILE... Prints every error; fails if there is
// one. Warnings are left out: they say that our own codes are not in the example value sets.
const fs = require("fs");
const { Fhir } = require("fhir");

let errors = 0;
for (const file of process.argv.slice(2)) {
  const resource = JSON.parse(fs.readFileSync(file, "utf8"));
  const result = new Fhir().validate(resource, { errorOnUnexpected: true });
  for (const message of result.messages) {
    if (message.severity !== "error" && message.severity !== "fatal") continue;
    console.log(`${file}: ${message.location}: ${message.message}`);
    errors += 1;
  }
  if (!result.valid) errors += 1;
}
process.exit(errors === 0 ? 0 : 1);
