#include "core/paper/pdf_identity.h"

#include <QPdfWriter>
#include <QUuid>
#include <QtGlobal>
#include <string_view>

namespace tearline::paper {

namespace {

/// Puts a fixed moment, its zone's sign with it, in place of every one that stands behind a key.
/// What is no part of a date stays, and so does the length: offsets in a PDF are counted.
void fix_dates(std::string& pdf, std::string_view key, std::string_view fixed, char end) {
    for (auto at = pdf.find(key); at != std::string::npos; at = pdf.find(key, at + 1)) {
        const auto from = at + key.size();
        for (auto i = from; i < pdf.size() && i < from + fixed.size() && pdf[i] != end; ++i)
            if ((pdf[i] >= '0' && pdf[i] <= '9') || (pdf[i] == '-' && fixed[i - from] == '+'))
                pdf[i] = fixed[i - from];
    }
}

}  // namespace

void name_pdf(QPdfWriter& writer, const QString& title) {
    writer.setCreator(QStringLiteral("tearline"));
    writer.setTitle(title);
#if QT_VERSION >= QT_VERSION_CHECK(6, 8, 0)
    writer.setDocumentId(QUuid::createUuidV5(QUuid(), title));
#endif
}

void forget_the_time(std::string& pdf) {
    for (const std::string_view key : {"/CreationDate (D:", "/ModDate (D:"})
        fix_dates(pdf, key, "20000101000000+00'00'", ')');
    for (const std::string_view key :
         {"xmp:CreateDate=\"", "xmp:ModifyDate=\"", "xmp:MetadataDate=\""})
        fix_dates(pdf, key, "2000-01-01T00:00:00+00:00", '"');
}

}  // namespace tearline::paper
