#include "core/closing/dish_volume.h"

namespace tearline::closing {

double dish_volume(double depth, double width, double floor, double perimeter, double ground) {
    return depth * (2.0 * floor / 3.0 + ground / 3.0 + perimeter * width / 6.0);
}

}  // namespace tearline::closing
