// The prior of the mean where trials end at a bound.
//
// Flat in the mean would say that a near point far inside the shortest distance, of which no trial
// can tell, is as likely as one that is seen; with half the trials to the nose that pulls the value
// nearer than it is. The reference prior is the square root of the information that one trial
// carries of the mean, the spread being unknown too:
//   i(z) = I_mm - I_ms^2 / I_ss, with z = (bound - mean) / deviation, and per unit of 1 /
//   deviation^2 I_mm = Q + f (z + m),  I_ms = f (1 + z^2 + z m),  I_ss = 2 Q + z f (1 + z^2 + z m),
// f and Q the normal density and upper tail at z, m = f / (1 - Q): the expected information of a
// normal sample censored below, as in Cohen, Technometrics 1961;3:535-541. It is flat again (1)
// where nothing is censored.
#pragma once

namespace nearpoint {

// i(z), from 1 far above the bound (z -> -infinity) to 0 far below it.
[[nodiscard]] double InformationOfMean(double z);

}  // namespace nearpoint
