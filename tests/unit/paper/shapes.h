#pragma once
#include "core/paper/ink.h"
#include "tests/unit/drawing/shapes.h"

namespace tearline::paper {

using drawing::circle;
using drawing::disc_set;
using drawing::outlined;
using drawing::rectangle;
using templates::TemplateSet;

}  // namespace tearline::paper
