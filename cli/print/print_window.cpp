#include "cli/print/print_window.h"

#include <QAction>
#include <QCheckBox>
#include <QComboBox>
#include <QDoubleSpinBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QGroupBox>
#include <QLabel>
#include <QListWidget>
#include <QMenuBar>
#include <QMessageBox>
#include <QPainter>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QSaveFile>
#include <QSplitter>
#include <QStatusBar>
#include <QVBoxLayout>
#include <algorithm>

#include "cli/print/page_view.h"
#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/us_constants.h"
#include "core/paper/paint_page.h"
#include "core/paper/write_pdf.h"

namespace tearline::cli {

namespace {

QString text_of(const std::string& text) {
    return QString::fromStdString(text);
}

QDoubleSpinBox* spin_box(double low, double high, double value, int decimals, double step) {
    auto* box = new QDoubleSpinBox;
    box->setDecimals(decimals);
    box->setRange(low, high);
    box->setSingleStep(step);
    box->setValue(value);
    return box;
}

}  // namespace

PrintWindow::PrintWindow(templates::TemplateSet plan, const paper::PrintChoice& choice)
    : plan_(std::move(plan)), choice_(choice) {
    setWindowTitle(tr("%1 - templates at full size")
                       .arg(text_of(plan_.title.empty() ? plan_.model : plan_.title)));
    build_controls();
    build_actions();
    fill_pieces();
    lay_out();
    resize(1180, 860);
}

std::size_t PrintWindow::page_count() const {
    return layout_ ? layout_->pages.size() : 0;
}

void PrintWindow::build_controls() {
    auto* side = new QWidget;
    auto* column = new QVBoxLayout(side);
    paper_ = new QComboBox;
    for (const paper::Paper& paper : paper::known_papers()) paper_->addItem(text_of(paper.name));
    paper_->setEditable(true);  // a roll of any width
    paper_->setInsertPolicy(QComboBox::NoInsert);
    paper_->setCurrentText(text_of(choice_.paper.name));
    auto* paper_label = new QLabel(tr("&Paper (or \"roll 800 mm\", \"roll 36 in\")"));
    paper_label->setBuddy(paper_);
    pieces_ = new QListWidget;
    auto* pieces_label = new QLabel(tr("P&ieces to print (space bar switches)"));
    pieces_label->setBuddy(pieces_);
    less_paper_ = new QCheckBox(tr("&Less paper: one ring sheet for mat where right"));
    tables_ = new QCheckBox(tr("Polar &tables (drawing without a printer)"));
    mirrored_ = new QCheckBox(tr("&Mirrored templates"));
    less_paper_->setChecked(choice_.less_paper);
    tables_->setChecked(choice_.polar_tables);
    mirrored_->setChecked(choice_.mirrored);
    auto* print_button = new QPushButton(tr("P&rint ..."));
    auto* save_button = new QPushButton(tr("&Save as PDF ..."));
    place_ = new QLabel;
    for (QWidget* widget : std::initializer_list<QWidget*>{
             paper_label, paper_, pieces_label, pieces_, less_paper_, tables_, mirrored_,
             build_calibration(), place_, print_button, save_button})
        column->addWidget(widget);

    view_ = new PageView;
    auto* splitter = new QSplitter;
    splitter->addWidget(side);
    splitter->addWidget(view_);
    splitter->setStretchFactor(1, 1);
    setCentralWidget(splitter);

    connect(paper_, &QComboBox::currentTextChanged, this, &PrintWindow::lay_out);
    for (QCheckBox* box : {less_paper_, tables_, mirrored_})
        connect(box, &QCheckBox::toggled, this, [this] {
            fill_pieces();
            lay_out();
        });
    connect(pieces_, &QListWidget::itemChanged, this, [this] {
        if (!filling_) lay_out();
    });
    connect(pieces_, &QListWidget::currentRowChanged, this, [this](int row) {
        if (!filling_) show_drawing(row);
    });
    connect(pieces_, &QListWidget::itemClicked, this,
            [this](QListWidgetItem* item) { show_drawing(pieces_->row(item)); });
    connect(print_button, &QPushButton::clicked, this, &PrintWindow::print);
    connect(save_button, &QPushButton::clicked, this, &PrintWindow::save_pdf);
}

QWidget* PrintWindow::build_calibration() {
    auto* group = new QGroupBox(tr("Printer check"));
    auto* form = new QFormLayout(group);
    const bool us = plan_.units == Units::us;
    measured_ = spin_box(0.0, 1.0, 0.0, us ? 3 : 2, us ? 0.01 : 0.1);
    measured_->setSuffix(text_of(" " + length_unit(plan_.units)));
    bar_label_ = new QLabel;
    bar_label_->setBuddy(measured_);
    ask_for_bar();
    sheet_scale_ =
        spin_box(paper::least_print_scale, paper::most_print_scale, choice_.print_scale, 4, 0.001);
    scale_now_ = new QLabel;
    scale_now_->setWordWrap(true);
    auto* apply = new QPushButton(tr("&Correct the print scale"));
    form->addRow(bar_label_, measured_);
    form->addRow(tr("on a sheet of print sc&ale"), sheet_scale_);
    form->addRow(apply);
    form->addRow(scale_now_);
    connect(apply, &QPushButton::clicked, this, &PrintWindow::calibrate);
    return group;
}

double PrintWindow::bar() const {
    return paper::check_bar(choice_.paper, choice_.print_scale, plan_.units);
}

void PrintWindow::ask_for_bar() {
    const double length = bar();
    if (asked_bar_ == length) return;
    asked_bar_ = length;
    bar_label_->setText(
        tr("The %1 %2 &bar measures").arg(length).arg(text_of(length_unit(plan_.units))));
    measured_->setRange(length * paper::least_print_scale, length * paper::most_print_scale);
    measured_->setValue(length);
}

void PrintWindow::build_actions() {
    const auto add = [this](QMenu* menu, const QString& text, const QKeySequence& key, auto slot) {
        QAction* action = menu->addAction(text);
        action->setShortcut(key);
        connect(action, &QAction::triggered, this, slot);
    };
    QMenu* file = menuBar()->addMenu(tr("&File"));
    add(file, tr("&Print ..."), QKeySequence::Print, &PrintWindow::print);
    add(file, tr("&Save as PDF ..."), QKeySequence::Save, &PrintWindow::save_pdf);
    add(file, tr("&Quit"), QKeySequence(Qt::CTRL | Qt::Key_Q), &PrintWindow::close);
    QMenu* view = menuBar()->addMenu(tr("&View"));
    add(view, tr("&Next page"), QKeySequence(Qt::Key_PageDown), &PrintWindow::next_page);
    add(view, tr("&Previous page"), QKeySequence(Qt::Key_PageUp), &PrintWindow::previous_page);
}

void PrintWindow::fill_pieces() {
    filling_ = true;
    QStringList off;
    for (int i = 0; i < pieces_->count(); ++i)
        if (pieces_->item(i)->checkState() == Qt::Unchecked) off << pieces_->item(i)->text();
    paper::PrintChoice all = choice_;
    all.less_paper = less_paper_->isChecked();
    all.polar_tables = tables_->isChecked();
    all.mirrored = mirrored_->isChecked();
    const bool first = pieces_->count() == 0 && !choice_.only.empty();
    pieces_->clear();
    for (const paper::Drawing& drawing : paper::drawings_of(plan_, all)) {
        auto* item = new QListWidgetItem(text_of(drawing.name), pieces_);
        item->setFlags(item->flags() | Qt::ItemIsUserCheckable);
        const bool wanted = first ? std::find(choice_.only.begin(), choice_.only.end(),
                                              drawing.name) != choice_.only.end()
                                  : !off.contains(item->text());
        item->setCheckState(wanted ? Qt::Checked : Qt::Unchecked);
    }
    if (pieces_->count() > 0) pieces_->setCurrentRow(0);
    filling_ = false;
}

void PrintWindow::lay_out() {
    view_->show_page(nullptr, 0);
    layout_.reset();
    const auto paper = paper::read_paper(paper_->currentText().toStdString());
    if (!paper) return complain(text_of(paper.error().message()));
    choice_.paper = *paper;
    ask_for_bar();
    choice_.less_paper = less_paper_->isChecked();
    choice_.polar_tables = tables_->isChecked();
    choice_.mirrored = mirrored_->isChecked();
    choice_.only.clear();
    for (int i = 0; i < pieces_->count(); ++i)
        if (pieces_->item(i)->checkState() == Qt::Checked)
            choice_.only.push_back(pieces_->item(i)->text().toStdString());
    scale_now_->setText(choice_.print_scale == 1.0
                            ? tr("Print scale 1: not corrected.")
                            : tr("Print scale %1 is in these sheets; do not correct them again.")
                                  .arg(text_of(fixed(choice_.print_scale, 4))));
    if (choice_.only.empty()) return complain(tr("Nothing is chosen to print."));
    auto layout = paper::lay_out_print(plan_, choice_);
    if (!layout) return complain(text_of(layout.error().message()));
    layout_ = *std::move(layout);
    statusBar()->showMessage(
        tr("%n page(s). PRINT AT 100 % (actual size).", nullptr, static_cast<int>(page_count())));
    show_page(static_cast<int>(page_));
}

void PrintWindow::show_page(int number) {
    const int count = static_cast<int>(page_count());
    if (count == 0) return;
    page_ = static_cast<std::size_t>(std::clamp(number, 0, count - 1));
    view_->show_page(&*layout_, page_);
    place_->setText(tr("Sheet %1 of %2 (Page Up, Page Down)").arg(page_ + 1).arg(count));
}

void PrintWindow::show_drawing(int row) {
    if (!layout_ || row < 0) return;
    const std::string id = pieces_->item(row)->text().toStdString();
    for (std::size_t page = 0; page < layout_->pages.size(); ++page) {
        const paper::Page& each = layout_->pages[page];
        const paper::Assembly& assembly = layout_->assemblies[each.assembly];
        const plane::Box window = assembly.window_of(each.tile);
        for (const paper::Drawing& drawing : assembly.drawings)
            if (drawing.name == id && paper::has_ink(drawing, window))
                return show_page(static_cast<int>(page));
    }
    statusBar()->showMessage(tr("%1 is not among the sheets to print.").arg(text_of(id)));
}

void PrintWindow::calibrate() {
    const double scale = sheet_scale_->value() * bar() / measured_->value();
    if (!(scale >= paper::least_print_scale) || !(scale <= paper::most_print_scale))
        return complain(tr("That is off by more than a tenth: print at 100 % (actual size) and "
                           "measure the %1 %2 bar again.")
                            .arg(bar())
                            .arg(text_of(length_unit(plan_.units))));
    choice_.print_scale = scale;
    // What was measured is used up: measuring again means a new sheet, printed at this scale.
    sheet_scale_->setValue(scale);
    measured_->setValue(bar());
    lay_out();
}

void PrintWindow::complain(const QString& text) {
    place_->setText(text);
    place_->setWordWrap(true);
    statusBar()->showMessage(text);
}

bool PrintWindow::print_on(QPrinter& printer, std::size_t first, std::size_t last) {
    const auto set_paper = [&](std::size_t page) {
        const Vec2 size =
            layout_->assemblies[layout_->pages[page].assembly].frame.paper * choice_.print_scale;
        printer.setPageSize(
            QPageSize(QSizeF(size.x(), size.y()), QPageSize::Millimeter, QString(),
                      choice_.paper.roll ? QPageSize::ExactMatch : QPageSize::FuzzyMatch));
    };
    printer.setFullPage(true);
    printer.setPageOrientation(QPageLayout::Portrait);
    set_paper(first);
    QPainter painter;
    if (!painter.begin(&printer)) return false;
    for (std::size_t page = first; page <= last; ++page) {
        if (page > first) {
            set_paper(page);
            if (!printer.newPage()) return false;
        }
        paper::paint_page(painter, *layout_, page, printer.resolution() / us::mm_per_inch);
    }
    return painter.end();
}

void PrintWindow::print() {
    if (!layout_) return;
    QPrinter printer(QPrinter::HighResolution);
    printer.setDocName(windowTitle());
    QPrintDialog dialog(&printer, this);
    dialog.setMinMax(1, static_cast<int>(page_count()));
    dialog.setOption(QAbstractPrintDialog::PrintPageRange);
    if (dialog.exec() != QDialog::Accepted) return;
    const bool range = printer.printRange() == QPrinter::PageRange && printer.fromPage() > 0;
    const auto first = static_cast<std::size_t>(range ? printer.fromPage() - 1 : 0);
    const std::size_t last =
        range ? std::min(page_count(), static_cast<std::size_t>(printer.toPage())) - 1
              : page_count() - 1;
    if (!print_on(printer, first, std::max(first, last)))
        QMessageBox::warning(this, windowTitle(), tr("The printer did not take the pages."));
    else
        statusBar()->showMessage(tr("Sent. Now measure the bars on the first sheet."));
}

void PrintWindow::save_pdf() {
    if (!layout_) return;
    const QString name = QFileDialog::getSaveFileName(this, tr("Save as PDF"), tr("templates.pdf"),
                                                      tr("PDF (*.pdf)"));
    if (name.isEmpty()) return;
    const auto pdf = paper::pdf_of(*layout_);
    QSaveFile file(name);
    const bool saved = pdf && file.open(QIODevice::WriteOnly) &&
                       file.write(pdf->data(), static_cast<qint64>(pdf->size())) ==
                           static_cast<qint64>(pdf->size()) &&
                       file.commit();
    if (!saved) QMessageBox::warning(this, windowTitle(), tr("%1 could not be written.").arg(name));
}

}  // namespace tearline::cli
