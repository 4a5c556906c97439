// Package num holds the numerical methods of the engine and nothing else: the
// Dormand-Prince 5(4) pair with dense output (Dopri5), a bracketing root (Root),
// a bounded minimum (Minimum), the monotone cubic (Cubic), Gauss-Legendre points
// (GaussLegendre) and the smooth step (Rise). It knows no rowing.
package num
