#pragma once

/// Exact definitions behind US customary units (international yard and pound, 1959).
namespace tearline::us {

inline constexpr double mm_per_inch = 25.4;
inline constexpr double mm_per_foot = 304.8;
inline constexpr double mm_per_yard = 914.4;
inline constexpr double grams_per_pound = 453.59237;
inline constexpr double grams_per_ounce = grams_per_pound / 16.0;
inline constexpr double millilitres_per_fluid_ounce = 29.5735295625;  // US gallon of 231 in3 / 128
inline constexpr double gsm_per_ounce_per_foot2 = grams_per_ounce / (0.3048 * 0.3048);
inline constexpr double gsm_per_ounce_per_yard2 = grams_per_ounce / (0.9144 * 0.9144);

/// Pound-force: the pound x 9.80665 m/s2.
inline constexpr double newtons_per_pound = 0.45359237 * 9.80665;

/// Pound-force a square inch: pound x 9.80665 m/s2 over (0.0254 m)2.
inline constexpr double mpa_per_psi = 0.45359237 * 9.80665 / (25.4 * 25.4);

}  // namespace tearline::us
