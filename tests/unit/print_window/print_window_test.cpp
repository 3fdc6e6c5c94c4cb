#include "cli/print/print_window.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QCheckBox>
#include <QComboBox>
#include <QDoubleSpinBox>
#include <QLabel>
#include <QListWidget>
#include <QPrinter>
#include <QTemporaryDir>
#include <QTest>

#include "tests/unit/paper/shapes.h"

namespace tearline::cli {
namespace {

templates::TemplateSet plan() {
    return paper::disc_set({60, 150});
}

/// A window that has the keyboard.
class PrintWindowKeys : public ::testing::Test {
protected:
    PrintWindowKeys() : window(plan(), {}) {
        window.show();
        QApplication::setActiveWindow(&window);
        EXPECT_TRUE(QTest::qWaitForWindowActive(&window));
    }

    void press(Qt::Key key, Qt::KeyboardModifiers modifiers = Qt::NoModifier) {
        QWidget* focus = QApplication::focusWidget();
        QTest::keyClick(focus ? focus : static_cast<QWidget*>(&window), key, modifiers);
    }

    template <class Widget>
    Widget* find(const QString& with_text) {
        for (Widget* widget : window.findChildren<Widget*>())
            if (widget->text().contains(with_text)) return widget;
        return nullptr;
    }

    PrintWindow window;
};

TEST_F(PrintWindowKeys, PageKeysTurnPagesAndStopAtTheEnds) {
    ASSERT_GT(window.page_count(), 2u);
    press(Qt::Key_PageDown);
    EXPECT_EQ(window.page(), 1u);
    press(Qt::Key_PageUp);
    press(Qt::Key_PageUp);
    EXPECT_EQ(window.page(), 0u);
    for (std::size_t k = 0; k < window.page_count() + 3; ++k) press(Qt::Key_PageDown);
    EXPECT_EQ(window.page(), window.page_count() - 1);
}

TEST_F(PrintWindowKeys, AltKeysReachEveryControl) {
    press(Qt::Key_P, Qt::AltModifier);
    EXPECT_TRUE(qobject_cast<QComboBox*>(QApplication::focusWidget()));
    press(Qt::Key_I, Qt::AltModifier);
    EXPECT_TRUE(qobject_cast<QListWidget*>(QApplication::focusWidget()));
    press(Qt::Key_B, Qt::AltModifier);
    EXPECT_TRUE(qobject_cast<QDoubleSpinBox*>(QApplication::focusWidget()));
    press(Qt::Key_M, Qt::AltModifier);
    EXPECT_TRUE(QTest::qWaitFor([&] { return window.choice().mirrored; }));
    press(Qt::Key_T, Qt::AltModifier);
    EXPECT_TRUE(QTest::qWaitFor([&] { return window.choice().polar_tables; }));
}

TEST_F(PrintWindowKeys, SpaceTakesAPieceOutOfThePrint) {
    const std::size_t before = window.page_count();
    press(Qt::Key_I, Qt::AltModifier);
    press(Qt::Key_Down);  // from the notes to the grind guide
    press(Qt::Key_Space);
    EXPECT_LT(window.page_count(), before);
    EXPECT_EQ(std::count(window.choice().only.begin(), window.choice().only.end(), "grind guide"),
              0);
}

TEST_F(PrintWindowKeys, ATypedBarCorrectsTheScaleOnce) {
    // By hand: 100 / 98.75 = 1.012658; a second sheet at that scale that measures 100.00 is right.
    press(Qt::Key_B, Qt::AltModifier);
    auto* measured = qobject_cast<QDoubleSpinBox*>(QApplication::focusWidget());
    ASSERT_TRUE(measured);
    measured->selectAll();
    QTest::keyClicks(measured, QLocale().toString(98.75, 'f', 2));
    press(Qt::Key_C, Qt::AltModifier);
    EXPECT_TRUE(QTest::qWaitFor([&] { return window.choice().print_scale != 1.0; }));
    EXPECT_NEAR(window.choice().print_scale, 100.0 / 98.75, 1e-9);
    press(Qt::Key_C, Qt::AltModifier);
    QTest::qWait(300);  // a button takes its time to come up again
    EXPECT_NEAR(window.choice().print_scale, 100.0 / 98.75, 1e-4);  // the box shows four digits
}

TEST_F(PrintWindowKeys, ARollAsksForTheBarThatIsOnIt) {
    auto* paper = window.findChild<QComboBox*>();
    paper->setEditText("roll 914 mm");
    const auto asked = [this] {
        for (QLabel* label : window.findChildren<QLabel*>())
            if (label->text().contains("&bar measures")) return label->text();
        return QString();
    };
    EXPECT_TRUE(asked().contains("150 mm")) << asked().toStdString();
    press(Qt::Key_B, Qt::AltModifier);
    auto* measured = qobject_cast<QDoubleSpinBox*>(QApplication::focusWidget());
    ASSERT_TRUE(measured);
    EXPECT_DOUBLE_EQ(measured->value(), 150.0);
    measured->setValue(148.5);
    window.calibrate();
    EXPECT_NEAR(window.choice().print_scale, 150.0 / 148.5, 1e-9);  // by hand: 1.010101
    paper->setEditText("A4");
    EXPECT_TRUE(asked().contains("100 mm")) << asked().toStdString();
    EXPECT_DOUBLE_EQ(measured->value(), 100.0);
}

TEST_F(PrintWindowKeys, TheListGoesToThePieceOneClicks) {
    auto* list = window.findChild<QListWidget*>();
    const int last = list->count() - 1;
    list->setCurrentRow(last);
    const std::size_t there = window.page();
    EXPECT_GT(there, 0u);
    list->setCurrentRow(0);
    EXPECT_EQ(window.page(), 0u);
    list->setCurrentRow(last);
    EXPECT_EQ(window.page(), there);
}

TEST_F(PrintWindowKeys, AnUnknownPaperShowsNothingAndSaysWhy) {
    auto* paper = window.findChild<QComboBox*>();
    paper->setEditText("A7");
    EXPECT_EQ(window.page_count(), 0u);
    EXPECT_FALSE(window.findChildren<QLabel*>().empty());
    paper->setEditText("roll 800 mm");
    EXPECT_EQ(window.page_count(), 1u);
    EXPECT_DOUBLE_EQ(window.choice().paper.width, 800.0);
}

TEST_F(PrintWindowKeys, APrinterGetsEachPageAtFullSize) {
    QTemporaryDir folder;
    QPrinter printer(QPrinter::HighResolution);
    printer.setOutputFormat(QPrinter::PdfFormat);
    printer.setOutputFileName(folder.filePath("out.pdf"));
    ASSERT_TRUE(window.print_on(printer, 0, 1));
    EXPECT_TRUE(printer.fullPage());
    EXPECT_NEAR(printer.pageLayout().fullRect(QPageLayout::Millimeter).width(), 210.0, 0.2);
    EXPECT_NEAR(printer.pageLayout().paintRect(QPageLayout::Millimeter).width(), 210.0, 0.2);
    EXPECT_GT(QFileInfo(folder.filePath("out.pdf")).size(), 1000);
}

}  // namespace
}  // namespace tearline::cli

int main(int argc, char** argv) {
    qputenv("QT_QPA_PLATFORM", "offscreen");
    QApplication application(argc, argv);
    ::testing::InitGoogleTest(&argc, argv);
    return RUN_ALL_TESTS();
}
