// Empty: carries the precompiled headers that the tests begin with.
