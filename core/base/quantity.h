#pragma once
#include <compare>

namespace tearline {

/// A number that carries its dimension in its type; arithmetic only within the dimension.
template <class Tag>
class Quantity {
public:
    constexpr Quantity() = default;
    constexpr explicit Quantity(double value) : value_(value) {}
    [[nodiscard]] constexpr double value() const { return value_; }

    constexpr auto operator<=>(const Quantity&) const = default;
    constexpr Quantity& operator+=(Quantity other) {
        value_ += other.value_;
        return *this;
    }
    friend constexpr Quantity operator+(Quantity a, Quantity b) {
        return Quantity(a.value_ + b.value_);
    }
    friend constexpr Quantity operator-(Quantity a, Quantity b) {
        return Quantity(a.value_ - b.value_);
    }
    friend constexpr Quantity operator*(Quantity a, double factor) {
        return Quantity(a.value_ * factor);
    }
    friend constexpr Quantity operator*(double factor, Quantity a) { return a * factor; }
    friend constexpr Quantity operator/(Quantity a, double divisor) {
        return Quantity(a.value_ / divisor);
    }
    friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }

private:
    double value_ = 0.0;
};

using Grams = Quantity<struct GramsTag>;
using Millilitres = Quantity<struct MillilitresTag>;
using GramsPerSquareMetre = Quantity<struct GramsPerSquareMetreTag>;
using GramsPerMillilitre = Quantity<struct GramsPerMillilitreTag>;
using SquareMetres = Quantity<struct SquareMetresTag>;
using Celsius = Quantity<struct CelsiusTag>;
using Minutes = Quantity<struct MinutesTag>;
using Hours = Quantity<struct HoursTag>;
using Percent = Quantity<struct PercentTag>;

constexpr Grams operator*(SquareMetres area, GramsPerSquareMetre weight) {
    return Grams(area.value() * weight.value());
}
constexpr Grams operator*(GramsPerSquareMetre weight, SquareMetres area) {
    return area * weight;
}
constexpr Grams operator*(Millilitres volume, GramsPerMillilitre density) {
    return Grams(volume.value() * density.value());
}
constexpr Millilitres operator/(Grams mass, GramsPerMillilitre density) {
    return Millilitres(mass.value() / density.value());
}

constexpr SquareMetres square_metres_from_mm2(double mm2) {
    return SquareMetres(mm2 / 1'000'000.0);
}

}  // namespace tearline
