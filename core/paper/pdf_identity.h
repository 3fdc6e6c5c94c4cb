#pragma once
#include <QString>
#include <string>

class QPdfWriter;

namespace tearline::paper {

/// Names a PDF by what it is: its title, the program and an identity that hangs on the title alone,
/// where Qt from 6.8 on would draw a new one each time.
void name_pdf(QPdfWriter& writer, const QString& title);

/// Takes the moment of writing out of a PDF: it is no property of the plan, and the same plan gives
/// the same bytes.
void forget_the_time(std::string& pdf);

}  // namespace tearline::paper
