#pragma once
#include <QMainWindow>
#include <optional>

#include "core/paper/print_layout.h"

class QCheckBox;
class QComboBox;
class QDoubleSpinBox;
class QLabel;
class QListWidget;
class QPrinter;

namespace tearline::cli {

class PageView;

/// Preview and printing of a plan's templates at full size; every control has a key.
class PrintWindow : public QMainWindow {
    Q_OBJECT
public:
    PrintWindow(templates::TemplateSet plan, const paper::PrintChoice& choice);

    [[nodiscard]] const paper::PrintChoice& choice() const { return choice_; }
    [[nodiscard]] std::size_t page_count() const;
    [[nodiscard]] std::size_t page() const { return page_; }
    /// Prints the pages on a printer, each on its own paper size, without margins of Qt's.
    bool print_on(QPrinter& printer, std::size_t first, std::size_t last);

public slots:
    void show_page(int number);  ///< from 0, kept within the pages there are
    void next_page() { show_page(static_cast<int>(page_) + 1); }
    void previous_page() { show_page(static_cast<int>(page_) - 1); }
    void calibrate();  ///< takes the measured bar over into the print scale
    void print();
    void save_pdf();

private:
    void build_controls();
    QWidget* build_calibration();
    void build_actions();
    void fill_pieces();
    void lay_out();
    /// Shows the first page that has some of the drawing in a row of the list.
    void show_drawing(int row);
    /// The check bar on the pages of the paper chosen, in the plan's own unit.
    [[nodiscard]] double bar() const;
    /// Asks for what that bar measures.
    void ask_for_bar();
    void complain(const QString& text);

    templates::TemplateSet plan_;
    paper::PrintChoice choice_;
    std::optional<paper::PrintLayout> layout_;
    std::size_t page_ = 0;
    bool filling_ = false;
    double asked_bar_ = 0.0;
    PageView* view_ = nullptr;
    QListWidget* pieces_ = nullptr;
    QComboBox* paper_ = nullptr;
    QCheckBox* less_paper_ = nullptr;
    QCheckBox* tables_ = nullptr;
    QCheckBox* mirrored_ = nullptr;
    QDoubleSpinBox* measured_ = nullptr;
    QDoubleSpinBox* sheet_scale_ = nullptr;
    QLabel* scale_now_ = nullptr;
    QLabel* bar_label_ = nullptr;
    QLabel* place_ = nullptr;
};

}  // namespace tearline::cli
