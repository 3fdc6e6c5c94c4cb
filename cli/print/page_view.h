#pragma once
#include <QWidget>

#include "core/paper/print_layout.h"

namespace tearline::cli {

/// One page as it will come out, as large as the room allows.
class PageView : public QWidget {
    Q_OBJECT
public:
    explicit PageView(QWidget* parent = nullptr);

    /// @param layout  nothing: an empty view; must outlive what is shown
    void show_page(const paper::PrintLayout* layout, std::size_t page);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const paper::PrintLayout* layout_ = nullptr;
    std::size_t page_ = 0;
};

}  // namespace tearline::cli
